using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>The day from which the events of a unit are collected; a unit without a row enters at enrolment.</summary>
internal static class EntryDay
{
    internal static MeasureColumn Derive(EntryMeasure measure, Derivation derivation)
    {
        RecordTable table = derivation.Records[measure.Table];
        NumberColumn day = (NumberColumn)table[measure.Column];
        LevelIndex level = derivation.LevelOf(measure);
        MeasureBuilder result = new(level, "no row");
        bool[] listed = new bool[level.Rows];
        for (int row = 0; row < table.Rows; row++)
        {
            if (level.Find(derivation.Index.KeysOfRows(table)[row]) is var target && target < 0)
                continue;
            listed[target] = true;
            if (day.HasValue(row))
                result.Set(target, Math.Max(0, day.Values[row]));
            else
                result.SetMissing(target, $"day of entry {day.MissingReason(row)}");
        }
        for (int row = 0; row < level.Rows; row++)
        {
            if (!listed[row])
                result.Set(row, 0);
        }
        int absent = listed.Count(l => !l);
        return result.Build(measure, note: absent == 0 ? null : FormattableString.Invariant($"{absent} without a row enter at enrolment."));
    }
}
