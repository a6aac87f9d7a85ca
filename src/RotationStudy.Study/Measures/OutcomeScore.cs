using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>A questionnaire's score: a total as sent, or the mean of the items answered, stretched to the score's range.</summary>
internal static class OutcomeScore
{
    internal static MeasureColumn Derive(OutcomeScoreMeasure measure, Derivation derivation)
    {
        RecordTable table = derivation.Records[measure.Table];
        LevelIndex level = derivation.LevelOf(measure);
        RowSelection selection = RowSelection.Of(table, measure.Visit, null, null, derivation);
        MeasureBuilder result = new(level, selection.NothingFound);
        int partly = 0;
        for (int row = 0; row < table.Rows; row++)
        {
            if (!selection.Keeps(row, out RowKey key) || level.Find(key) is var target && target < 0)
                continue;
            if (measure.Items is { } items)
                partly += SetFromItems(measure, items, table, row, target, result) ? 1 : 0;
            else
                SetFromTotal((NumberColumn)table[measure.Column!], row, target, result);
        }
        string? note = partly == 0 ? null : FormattableString.Invariant($"{partly} scores rest on the items answered, with one or more missing.");
        return result.Build(measure, note: note);
    }

    private static void SetFromTotal(NumberColumn total, int row, int target, MeasureBuilder result)
    {
        if (total.HasValue(row))
            result.Set(target, total.Values[row]);
        else
            result.SetMissing(target, total.MissingReason(row)!);
    }

    /// <summary>Sets the score; true when it rests on fewer than all items.</summary>
    private static bool SetFromItems(OutcomeScoreMeasure measure, ItemRule items, RecordTable table, int row, int target, MeasureBuilder result)
    {
        double sum = 0;
        int answered = 0;
        foreach (string name in items.Columns)
        {
            NumberColumn item = (NumberColumn)table[name];
            if (!item.HasValue(row))
                continue;
            sum += item.Values[row];
            answered++;
        }
        if (answered < items.AtLeastAnswered)
        {
            result.SetMissing(target, FormattableString.Invariant($"fewer than {items.AtLeastAnswered} of {items.Columns.Length} items answered"));
            return false;
        }
        double share = ((sum / answered) - items.Range.Lowest) / (items.Range.Highest - items.Range.Lowest);
        result.Set(target, measure.Range.Lowest + (share * (measure.Range.Highest - measure.Range.Lowest)));
        return answered < items.Columns.Length;
    }
}
