using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>The change of a score between two visits: worse, better, or no clear change.</summary>
/// <remarks>A change counts when it is as large as the smallest detectable change or larger; the direction is that of the score.</remarks>
internal static class MeaningfulChange
{
    private const int Worse = 0;
    private const int Unclear = 1;
    private const int Better = 2;

    /// <summary>Decimals are not exact in binary: 93.8 - 70 falls short of 23.8 by far less than this.</summary>
    private const double Rounding = 1e-9;

    internal static MeasureColumn Derive(MeaningfulChangeMeasure measure, Derivation derivation)
    {
        MeasureColumn from = derivation.Done[measure.From];
        MeasureColumn to = derivation.Done[measure.To];
        OutcomeScoreMeasure score = (OutcomeScoreMeasure)to.Definition;
        double limit = (score.DetectableChange ?? score.ImportantChange)!.Points;
        double sign = score.Direction == ScoreDirection.HighIsGood ? 1 : -1;
        MeasureBuilder result = new(to.Index, "no row");
        for (int row = 0; row < to.Index.Rows; row++)
        {
            int earlier = from.Index.Find(to.Index.Keys[row]);
            if (earlier < 0)
                continue;
            if ((from.Reason(earlier) ?? to.Reason(row)) is { } reason)
            {
                result.SetMissing(row, reason);
                continue;
            }
            double change = sign * (to.Values[row] - from.Values[earlier]);
            result.Set(row, change >= limit - Rounding ? Better : change <= Rounding - limit ? Worse : Unclear);
        }
        string? note = score.DetectableChange is { } error && score.ImportantChange is { } important && error.Points > important.Points
            ? "The smallest detectable change is larger than the smallest important one: an important change of one person cannot be told from error, that of a group can."
            : null;
        return result.Build(measure, [.. ChangeWords.Labels.Select(l => new CodeDefinition(l, l))], note);
    }
}
