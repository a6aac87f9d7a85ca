using System.Globalization;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>The last reading minus the first, over the years between them; readings of one day count as their mean.</summary>
internal static class ChangePerYear
{
    private const double DaysPerYear = 365.25;

    internal static MeasureColumn Derive(ChangePerYearMeasure measure, Derivation derivation)
    {
        RecordTable table = derivation.Records[measure.Table];
        LevelIndex level = derivation.LevelOf(measure);
        RowSelection selection = RowSelection.Of(table, null, measure.MethodColumn, measure.Method, derivation);
        NumberColumn values = (NumberColumn)table[measure.Column];
        Func<int, double?> dayOf = Days(measure, table, derivation);
        SortedDictionary<double, (double Sum, int Count)>?[] readings = new SortedDictionary<double, (double, int)>?[level.Rows];
        for (int row = 0; row < table.Rows; row++)
        {
            if (!selection.Keeps(row, out RowKey key) || !values.HasValue(row) || dayOf(row) is not { } day)
                continue;
            if ((measure.HipGate && derivation.Gate.Closes(key) is not null) || level.Find(key) is var target && target < 0)
                continue;
            SortedDictionary<double, (double Sum, int Count)> days = readings[target] ??= [];
            (double sum, int count) = days.GetValueOrDefault(day);
            days[day] = (sum + values.Values[row], count + 1);
        }
        return Changes(measure, level, readings, selection.NothingFound);
    }

    private static MeasureColumn Changes(
        ChangePerYearMeasure measure, LevelIndex level, SortedDictionary<double, (double Sum, int Count)>?[] readings, string nothingFound)
    {
        MeasureBuilder result = new(level, nothingFound);
        for (int row = 0; row < level.Rows; row++)
        {
            if (readings[row] is not { } days)
                continue;
            (double first, (double Sum, int Count) start) = days.First();
            (double last, (double Sum, int Count) end) = days.Last();
            if (days.Count == 1)
                result.SetMissing(row, "one reading only");
            else if (last - first < measure.LeastDays)
                result.SetMissing(row, string.Create(CultureInfo.InvariantCulture, $"readings less than {measure.LeastDays} days apart"));
            else
                result.Set(row, ((end.Sum / end.Count) - (start.Sum / start.Count)) / ((last - first) / DaysPerYear));
        }
        return result.Build(measure);
    }

    /// <summary>The day of each row: its own, or that of its visit.</summary>
    private static Func<int, double?> Days(ChangePerYearMeasure measure, RecordTable table, Derivation derivation)
    {
        if (measure.DayTable is null)
        {
            NumberColumn own = (NumberColumn)table[measure.DayColumn];
            return row => own.HasValue(row) ? own.Values[row] : null;
        }
        RecordTable visits = derivation.Records[measure.DayTable];
        NumberColumn day = (NumberColumn)visits[measure.DayColumn];
        Dictionary<(int, int), double> dayOf = [];
        for (int row = 0; row < visits.Rows; row++)
        {
            RowKey key = derivation.Index.KeysOfRows(visits)[row];
            if (day.HasValue(row))
                dayOf.TryAdd((key.Participant, key.Occasion), day.Values[row]);
        }
        return row =>
        {
            RowKey key = derivation.Index.KeysOfRows(table)[row];
            return dayOf.TryGetValue((key.Participant, key.Occasion), out double found) ? found : null;
        };
    }
}
