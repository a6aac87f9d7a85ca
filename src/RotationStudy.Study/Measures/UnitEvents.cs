using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Events of a unit within its follow-up: their number, whether there was any, the day of the first.</summary>
/// <remarks>
/// An event counts when 0 &lt; day ≤ end of follow-up. Day 0 is the event for which the participant was enrolled, not a new
/// one. Reports close together are one event: a report counts only when it lies more than the merging window after the
/// last report that counted.
/// </remarks>
internal static class UnitEvents
{
    internal static MeasureColumn Count(EventCountMeasure measure, Derivation derivation)
        => Derive(measure, measure.Events, measure.FollowUp, derivation, (days, _) => days.Count);

    internal static MeasureColumn Any(AnyEventMeasure measure, Derivation derivation)
        => Derive(measure, measure.Events, measure.FollowUp, derivation, (days, _) => days.Count > 0 ? 1 : 0);

    internal static MeasureColumn FirstDay(FirstEventDayMeasure measure, Derivation derivation)
        => Derive(measure, measure.Events, measure.FollowUp, derivation, (days, end) => days.Count > 0 ? days[0] : end);

    /// <summary>The days on which each row of a level had the event, increasing, merged; day 0 and before left out.</summary>
    internal static List<double>[] Days(EventSelection selection, LevelIndex level, Derivation derivation)
    {
        RecordTable table = derivation.Records[selection.Table];
        CodeColumn kind = (CodeColumn)table[selection.Column];
        NumberColumn day = (NumberColumn)table[table.Definition.Column(ColumnRole.Day)!.Name];
        HashSet<int> codes = [.. selection.Codes.Select(c => kind.Definition.Codes.ToList().FindIndex(d => d.Code == c))];
        ImmutableArray<RowKey> keys = derivation.Index.KeysOfRows(table);
        List<double>[] days = new List<double>[level.Rows];
        for (int row = 0; row < days.Length; row++)
            days[row] = [];
        for (int row = 0; row < table.Rows; row++)
        {
            if (kind.HasValue(row) && codes.Contains(kind.Indices[row]) && day.HasValue(row) && day.Values[row] > 0
                && level.Find(keys[row]) is var target && target >= 0)
                days[target].Add(day.Values[row]);
        }
        foreach (List<double> list in days)
            Merge(list, selection.MergeWithinDays);
        return days;
    }

    private static void Merge(List<double> days, int window)
    {
        days.Sort();
        int kept = 0;
        for (int i = 0; i < days.Count; i++)
        {
            if (kept == 0 || days[i] - days[kept - 1] > window)
                days[kept++] = days[i];
        }
        days.RemoveRange(kept, days.Count - kept);
    }

    private static MeasureColumn Derive(
        MeasureDefinition measure, EventSelection selection, string followUp, Derivation derivation, Func<List<double>, double, double> value)
    {
        MeasureColumn end = derivation.Done[followUp];
        LevelIndex level = end.Index;
        MeasureBuilder result = new(level, "no follow-up");
        List<double>[] days = Days(selection, level, derivation);
        for (int row = 0; row < level.Rows; row++)
        {
            if (end.Reason(row) is { } reason)
            {
                result.SetMissing(row, reason);
                continue;
            }
            days[row].RemoveAll(d => d > end.Values[row]);
            result.Set(row, value(days[row], end.Values[row]));
        }
        return result.Build(measure);
    }
}
