using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Events of a unit within its follow-up: their number, whether there was any, the day of the first.</summary>
/// <remarks>
/// An event counts when entry &lt; day ≤ end of follow-up. Day 0 is the event for which the participant was enrolled, not a
/// new one. Reports close together are one event: a report counts only when it lies more than the merging window after the
/// last report that counted. Events are merged first, then those outside the follow-up are left out, then they are numbered.
/// </remarks>
internal static class UnitEvents
{
    internal static MeasureColumn Count(EventCountMeasure measure, Derivation derivation)
        => Derive(measure, measure.Events, measure.FollowUp, derivation, (days, _) => days.Count);

    internal static MeasureColumn Any(AnyEventMeasure measure, Derivation derivation)
        => Derive(measure, measure.Events, measure.FollowUp, derivation, (days, _) => days.Count > 0 ? 1 : 0);

    internal static MeasureColumn FirstDay(FirstEventDayMeasure measure, Derivation derivation)
        => Derive(measure, measure.Events, measure.FollowUp, derivation, (days, end) => days.Count > 0 ? days[0] : end);

    /// <summary>When the events of a count happened, a history per row of its follow-up.</summary>
    internal static ImmutableArray<EventHistory?> Histories(EventCountMeasure measure, Derivation derivation)
    {
        MeasureColumn time = derivation.Done[measure.FollowUp];
        return
        [
            .. DaysAtRisk(measure.Events, measure.FollowUp, derivation).Select((days, row) =>
            {
                if (days is null)
                    return null;
                (double entry, double end) = FollowUpTime.Span((FollowUpMeasure)time.Definition, time, row, derivation);
                return new EventHistory(entry, end, [.. days]);
            }),
        ];
    }

    /// <summary>The days on which each row of a level had the event, increasing, merged; day 0 and before left out.</summary>
    internal static List<double>[] Days(EventSelection selection, LevelIndex level, Derivation derivation)
    {
        RecordTable table = derivation.Records[selection.Table];
        EventRows events = new(selection, table);
        NumberColumn day = (NumberColumn)table[table.Definition.Column(ColumnRole.Day)!.Name];
        ImmutableArray<RowKey> keys = derivation.Index.KeysOfRows(table);
        List<double>[] days = new List<double>[level.Rows];
        for (int row = 0; row < days.Length; row++)
            days[row] = [];
        for (int row = 0; row < table.Rows; row++)
        {
            if (!events.Holds(row) || !day.HasValue(row) || day.Values[row] <= 0)
                continue;
            if (selection.Side is EventSide.This or EventSide.Either)
                Add(keys[row]);
            if (selection.Side is EventSide.Other or EventSide.Either && keys[row].Side >= 0)
                Add(keys[row] with { Side = 1 - keys[row].Side });

            void Add(RowKey key)
            {
                if (level.Find(key) is var target && target >= 0)
                    days[target].Add(day.Values[row]);
            }
        }
        foreach (List<double> list in days)
            Merge(list, selection.MergeWithinDays);
        return days;
    }

    /// <summary>The days of each row that lie within its follow-up, from the number on that the selection asks for; null where the follow-up is not known.</summary>
    internal static List<double>?[] DaysAtRisk(EventSelection selection, string followUp, Derivation derivation)
    {
        MeasureColumn time = derivation.Done[followUp];
        FollowUpMeasure bounds = (FollowUpMeasure)time.Definition;
        List<double>?[] days = Days(selection, time.Index, derivation);
        for (int row = 0; row < days.Length; row++)
        {
            if (!time.HasValue(row))
            {
                days[row] = null;
                continue;
            }
            (double entry, double end) = FollowUpTime.Span(bounds, time, row, derivation);
            days[row]!.RemoveAll(d => d <= entry || d > end);
            days[row]!.RemoveRange(0, Math.Min(selection.FromNumber - 1, days[row]!.Count));
        }
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
        MeasureColumn time = derivation.Done[followUp];
        MeasureBuilder result = new(time.Index, "no follow-up");
        List<double>?[] days = DaysAtRisk(selection, followUp, derivation);
        for (int row = 0; row < days.Length; row++)
        {
            if (days[row] is { } list)
                result.Set(row, value(list, FollowUpTime.Span((FollowUpMeasure)time.Definition, time, row, derivation).End));
            else
                result.SetMissing(row, time.Reason(row)!);
        }
        return result.Build(measure);
    }
}
