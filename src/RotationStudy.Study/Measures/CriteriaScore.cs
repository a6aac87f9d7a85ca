using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>The number of components that meet their criterion, from 0 to the number of components.</summary>
/// <remarks>A missing component makes the score missing: no pro-rating.</remarks>
internal static class CriteriaScore
{
    internal static MeasureColumn Derive(CriteriaScoreMeasure measure, Derivation derivation)
    {
        RecordTable table = derivation.Records[measure.Table];
        MeasureBuilder result = new(derivation.LevelOf(measure), RowSelection.Of(table, measure.Visit, null, null, derivation).NothingFound);
        (int Met, int Unknown)?[] tallies = Tallies(measure, derivation);
        int incomplete = 0;
        for (int row = 0; row < tallies.Length; row++)
        {
            if (tallies[row] is not { } tally)
                continue;
            if (tally.Unknown == 0)
            {
                result.Set(row, tally.Met);
                continue;
            }
            incomplete++;
            result.SetMissing(row, tally.Unknown == 1 ? "one component missing" : "several components missing");
        }
        string? note = incomplete == 0 ? null : $"{incomplete} scores with a missing component stay missing, not pro-rated.";
        return result.Build(measure, note: note);
    }

    /// <summary>Components met and missing, for each row of the score's level; null where nothing was recorded.</summary>
    internal static (int Met, int Unknown)?[] Tallies(CriteriaScoreMeasure measure, Derivation derivation)
    {
        RecordTable table = derivation.Records[measure.Table];
        LevelIndex level = derivation.LevelOf(measure);
        RowSelection selection = RowSelection.Of(table, measure.Visit, null, null, derivation);
        (int Met, int Unknown)?[] tallies = new (int, int)?[level.Rows];
        for (int row = 0; row < table.Rows; row++)
        {
            // The first row in key order counts when several raters scored one visit.
            if (selection.Keeps(row, out RowKey key) && level.Find(key) is var target && target >= 0)
                tallies[target] ??= Tally(measure, table, row);
        }
        return tallies;
    }

    private static (int Met, int Unknown) Tally(CriteriaScoreMeasure measure, RecordTable table, int row)
    {
        int met = 0;
        int unknown = 0;
        foreach (ScoreComponent component in measure.Components)
        {
            RecordColumn column = table[component.Column];
            if (!column.HasValue(row))
                unknown++;
            else if (Meets(component, column, row))
                met++;
        }
        return (met, unknown);
    }

    private static bool Meets(ScoreComponent component, RecordColumn column, int row) => component.Test switch
    {
        ComponentTest.AtLeast => ((NumberColumn)column).Values[row] >= component.Threshold,
        ComponentTest.MoreThan => ((NumberColumn)column).Values[row] > component.Threshold,
        ComponentTest.Is => column is CodeColumn code && code.Definition.Codes[code.Indices[row]].Code == component.Code,
        _ => throw new ArgumentOutOfRangeException(nameof(component)),
    };
}
