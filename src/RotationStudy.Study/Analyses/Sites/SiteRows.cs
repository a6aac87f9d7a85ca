using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses.Sites;

/// <summary>The rows of a question by site.</summary>
internal static class SiteRows
{
    /// <summary>The sites that have a row, in the order of the codes, each with the positions of its rows.</summary>
    internal static ImmutableArray<(CodeDefinition Site, int[] Rows)> Split(AnalysisTable table, MeasureColumn sites)
    {
        List<int>[] rows = [.. sites.Codes.Select(_ => new List<int>())];
        for (int row = 0; row < table.Rows; row++)
        {
            int at = sites.Index.Find(table.Keys[row]);
            if (at >= 0 && sites.HasValue(at))
                rows[(int)sites.Values[at]].Add(row);
        }
        return [.. sites.Codes.Select((code, i) => (code, rows[i].ToArray())).Where(s => s.Item2.Length > 0)];
    }

    /// <summary>The same question on some rows, its terms made anew: what is the same in all of them is left out.</summary>
    internal static AnalysisInput With(AnalysisInput input, int[] rows)
    {
        AnalysisTable table = PlannedModel.TableOf(input.Table, rows);
        return input with { Table = table, Terms = TermBuilder.Build(input.Question, table) };
    }
}
