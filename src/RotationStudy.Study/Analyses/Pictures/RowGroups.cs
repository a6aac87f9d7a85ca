using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses.Pictures;

/// <summary>The rows of a table by the groups of a measure; rows without a group belong to none.</summary>
internal sealed record RowGroups(ImmutableArray<string> Names, ImmutableArray<int> Of)
{
    /// <summary>Groups of the measure that occur, in the order of its codes; one of no name where there is no measure.</summary>
    internal static RowGroups In(AnalysisTable table, MeasureColumn? measure)
    {
        if (measure is null)
            return new RowGroups([string.Empty], [.. table.Keys.Select(_ => 0)]);
        int[] codes = [.. table.Keys.Select(k => measure.Index.Find(k) is >= 0 and int row && measure.HasValue(row) ? (int)measure.Values[row] : -1)];
        int[] found = [.. codes.Where(c => c >= 0).Distinct().Order()];
        return new RowGroups([.. found.Select(c => NameOf(measure, c))], [.. codes.Select(c => Array.IndexOf(found, c))]);
    }

    /// <summary>A code in words; a measure of yes and no has no codes.</summary>
    internal static string NameOf(MeasureColumn measure, int code)
        => measure.IsCoded ? measure.Codes[code].Meaning : $"{measure.Definition.Label}: {(code > 0 ? "yes" : "no")}";
}
