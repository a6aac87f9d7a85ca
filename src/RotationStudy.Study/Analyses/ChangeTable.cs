using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Changes of scores read against the error of measurement: how many people are worse, better, or not clearly changed.</summary>
internal static class ChangeTable
{
    internal static ResultTable? Build(DerivedMeasures measures, StudyProtocol protocol)
    {
        MeasureColumn[] changes = [.. measures.Columns.Where(c => c.Definition is MeaningfulChangeMeasure)];
        if (changes.Length == 0)
            return null;
        return new ResultTable(
            "score-changes", "Changes of scores against the error of measurement",
            ["Change", "Worse", "No clear change", "Better", "Not known"],
            [.. changes.Select(c => new TableRow(Cells(c, protocol.Study.SmallestPrintedCount), 0))],
            [.. changes.Select(c => c.Note).OfType<string>().Distinct(StringComparer.Ordinal)]);
    }

    private static ImmutableArray<TableCell> Cells(MeasureColumn change, int smallest)
    {
        int[] counts = new int[change.Codes.Length + 1];
        for (int row = 0; row < change.Index.Rows; row++)
            counts[change.HasValue(row) ? (int)change.Values[row] : ^1]++;
        return [new(change.Definition.Label, null), .. counts.Select(n => RecoveryTable.Hidden(n, smallest))];
    }
}
