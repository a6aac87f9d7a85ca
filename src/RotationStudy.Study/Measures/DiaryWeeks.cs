using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Days of a diary brought to weeks since enrolment: week 1 is day 1 to 7. Day 0 and before belong to no week.</summary>
/// <remarks>
/// A day counts when its value is there and the device was worn as long as the rule says. A week with too few such days is
/// missing, with that reason. Sums are stretched to seven days, so that a day not worn does not pass for a day of rest.
/// </remarks>
internal static class DiaryWeeks
{
    internal const int WeekDays = 7;

    /// <summary>The week of a day, or 0 for days before the first.</summary>
    internal static int WeekOf(double day) => day < 1 ? 0 : (int)((day - 1) / WeekDays) + 1;

    internal static string Label(int week) => FormattableString.Invariant($"week {week}");

    internal static MeasureColumn Values(WeeklyMeasure measure, Derivation derivation)
    {
        RecordTable table = derivation.Records[measure.Table];
        NumberColumn value = (NumberColumn)table[measure.Column];
        NumberColumn? worn = measure.Wear is { } wear ? (NumberColumn)table[wear.Column] : null;
        LevelIndex level = derivation.LevelOf(measure);
        double[] sum = new double[level.Rows];
        int[] days = new int[level.Rows];
        bool[] seen = new bool[level.Rows];
        foreach ((int row, int target) in Rows(table, level, derivation))
        {
            seen[target] = true;
            bool counts = worn is null || (worn.HasValue(row) && worn.Values[row] >= measure.Wear!.AtLeastHours);
            if (!counts || !value.HasValue(row))
                continue;
            sum[target] += value.Values[row];
            days[target]++;
        }
        MeasureBuilder result = new(level, "no day in the diary");
        for (int row = 0; row < level.Rows; row++)
        {
            if (days[row] >= measure.MinimumDays)
                result.Set(row, sum[row] / days[row] * (measure.Reduction == WeeklyReduction.WeeklySum ? WeekDays : 1));
            else if (seen[row])
                result.SetMissing(row, FormattableString.Invariant($"fewer than {measure.MinimumDays} days that count"));
        }
        return result.Build(measure);
    }

    internal static MeasureColumn Changes(WeeklyChangesMeasure measure, Derivation derivation)
    {
        RecordTable table = derivation.Records[measure.Table];
        CodeColumn change = (CodeColumn)table[measure.Column];
        HashSet<int> codes = EventRows.Indices(change, measure.Codes);
        LevelIndex level = derivation.LevelOf(measure);
        HashSet<int>[] changes = [.. Enumerable.Range(0, level.Rows).Select(_ => new HashSet<int>())];
        bool[] seen = new bool[level.Rows];
        foreach ((int row, int target) in Rows(table, level, derivation))
        {
            seen[target] = true;
            if (change.HasValue(row) && codes.Contains(change.Indices[row]))
                changes[target].Add(change.Indices[row]);
        }
        MeasureBuilder result = new(level, "no day in the diary");
        for (int row = 0; row < level.Rows; row++)
        {
            if (seen[row])
                result.Set(row, changes[row].Count);
        }
        int several = changes.Count(c => c.Count > 1);
        return result.Build(measure, note: several == 0 ? null : FormattableString.Invariant($"{several} weeks have more than one change at a time."));
    }

    private static IEnumerable<(int Row, int Target)> Rows(RecordTable table, LevelIndex level, Derivation derivation)
    {
        NumberColumn day = (NumberColumn)table[table.Definition.Column(ColumnRole.Day)!.Name];
        ImmutableArray<RowKey> keys = derivation.Index.KeysOfRows(table);
        for (int row = 0; row < table.Rows; row++)
        {
            if (!day.HasValue(row) || derivation.Index.WeekPosition(WeekOf(day.Values[row])) is var week && week < 0)
                continue;
            if (level.Find(keys[row] with { Occasion = week }) is var target && target >= 0)
                yield return (row, target);
        }
    }
}
