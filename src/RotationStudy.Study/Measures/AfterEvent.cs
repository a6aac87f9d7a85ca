using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>From the first event of a unit within its follow-up to a milestone, image or other dated row.</summary>
/// <remarks>
/// Rows dated before the event do not count. Where a unit has one row for each code, as with milestones, such a row
/// contradicts the event, and the value is missing with that reason; an earlier image is merely an earlier image. What is
/// reached on the day of the event was watched for half a day: a curve needs a time above 0 (common practice, no source).
/// </remarks>
internal static class AfterEvent
{
    private const double DaysPerWeek = 7;
    private const double SameDay = 0.5;

    internal static MeasureColumn Derive(AfterMeasure measure, Derivation derivation)
    {
        MeasureColumn followUp = derivation.Done[measure.FollowUp];
        LevelIndex level = followUp.Index;
        List<double>?[] origins = UnitEvents.DaysAtRisk(measure.Origin, measure.FollowUp, derivation);
        List<double>[] rows = Dates(measure.Until, level, derivation);
        MeasureBuilder result = new(level, "no follow-up");
        double scale = measure.Unit == "weeks" ? DaysPerWeek : 1;
        string origin = string.Join(" or ", measure.Origin.Codes);
        bool once = measure.Until.Column is { } column && derivation.Protocol.Table(measure.Until.Table).Key.Contains(column);
        for (int row = 0; row < level.Rows; row++)
        {
            if (followUp.Reason(row) is { } reason)
            {
                result.SetMissing(row, reason);
                continue;
            }
            if (origins[row] is not [double start, ..])
            {
                result.SetMissing(row, $"no {origin} during follow-up");
                continue;
            }
            double end = FollowUpTime.Span((FollowUpMeasure)followUp.Definition, followUp, row, derivation).End;
            double? reached = First(rows[row], start, end);
            if (reached is null && once && rows[row].Exists(d => d < start))
                result.SetMissing(row, $"dated before the {origin}");
            else
                Set(measure.Value, result, row, start, end, reached, scale);
        }
        return result.Build(measure);
    }

    private static void Set(AfterValue value, MeasureBuilder result, int row, double start, double end, double? reached, double scale)
    {
        if (value == AfterValue.ReachedAfter)
            result.Set(row, reached is null ? 0 : 1);
        else if (reached is { } day)
            result.Set(row, (value == AfterValue.WatchedAfter && day == start ? SameDay : day - start) / scale);
        else if (value == AfterValue.TimeAfter)
            result.SetMissing(row, "not reached during follow-up");
        else if (end > start)
            result.Set(row, (end - start) / scale);
        else
            result.SetMissing(row, "no follow-up after the event");
    }

    private static double? First(List<double> days, double from, double to)
    {
        double? first = null;
        foreach (double day in days)
        {
            if (day >= from && day <= to && !(day >= first))
                first = day;
        }
        return first;
    }

    private static List<double>[] Dates(DatedRows until, LevelIndex level, Derivation derivation)
    {
        RecordTable table = derivation.Records[until.Table];
        NumberColumn day = (NumberColumn)table[table.Definition.Column(ColumnRole.Day)!.Name];
        CodeColumn? code = until.Column is { } name ? (CodeColumn)table[name] : null;
        HashSet<int> codes = code is null ? [] : EventRows.Indices(code, until.Codes);
        ImmutableArray<RowKey> keys = derivation.Index.KeysOfRows(table);
        List<double>[] days = [.. Enumerable.Range(0, level.Rows).Select(_ => new List<double>())];
        for (int row = 0; row < table.Rows; row++)
        {
            bool wanted = code is null || (code.HasValue(row) && codes.Contains(code.Indices[row]));
            if (wanted && day.HasValue(row) && level.Find(keys[row]) is var target && target >= 0)
                days[target].Add(day.Values[row]);
        }
        return days;
    }
}
