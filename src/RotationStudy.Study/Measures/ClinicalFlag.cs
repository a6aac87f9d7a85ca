using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Whether all conditions of a flag hold: 1, 0 when one does not, missing when none fails and one is not known.</summary>
internal static class ClinicalFlag
{
    internal static MeasureColumn Derive(ClinicalFlagMeasure measure, Derivation derivation)
    {
        LevelIndex level = derivation.LevelOf(measure);
        (MeasureColumn Column, FlagCondition Condition)[] conditions = [.. measure.Conditions.Select(c => (derivation.Done[c.Measure], c))];
        MeasureBuilder result = new(level, "not asked");
        for (int row = 0; row < level.Rows; row++)
        {
            bool fails = false;
            string? unknown = null;
            foreach ((MeasureColumn column, FlagCondition condition) in conditions)
            {
                int at = column.Index.Find(level.Keys[row]);
                if (at < 0 || !column.HasValue(at))
                    unknown ??= at < 0 ? "not asked" : $"{column.Definition.Label}: {column.Reason(at)}";
                else
                    fails |= !Holds(condition, column, at);
            }
            if (fails)
                result.Set(row, 0);
            else if (unknown is null)
                result.Set(row, 1);
            else
                result.SetMissing(row, unknown);
        }
        return result.Build(measure);
    }

    private static bool Holds(FlagCondition condition, MeasureColumn column, int row)
        => condition.AtLeast is { } least ? column.Values[row] >= least : column.Codes[(int)column.Values[row]].Code == condition.Code;
}
