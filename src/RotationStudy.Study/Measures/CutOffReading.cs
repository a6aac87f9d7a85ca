using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Rules;

namespace RotationStudy.Study.Measures;

/// <summary>Whether a score reaches the cut-off for the person's age; with components missing it is said only where both ends of the interval agree.</summary>
internal static class CutOffReading
{
    /// <summary>The reason of a score whose interval holds the cut-off.</summary>
    internal const string CannotTell = "components missing: cannot tell";

    internal static MeasureColumn Derive(CutOffMeasure measure, Derivation derivation)
    {
        CriteriaScoreMeasure score = (CriteriaScoreMeasure)derivation.Protocol.Measure(measure.Of);
        MeasureColumn of = derivation.Done[measure.Of];
        MeasureColumn age = derivation.Done[measure.Age];
        (int Met, int Unknown)?[] tallies = CriteriaScore.Tallies(score, derivation);
        MeasureBuilder result = new(of.Index, "no row");
        for (int row = 0; row < of.Index.Rows; row++)
        {
            int at = age.Index.Find(of.Index.Keys[row]);
            if (tallies[row] is not { } tally)
                result.SetMissing(row, of.Reason(row)!);
            else if (at < 0 || age.Reason(at) is not null)
                result.SetMissing(row, $"{age.Definition.Label}: {(at < 0 ? "no row" : age.Reason(at))}");
            else if (measure.Rows.FirstOrDefault(r => age.Values[at] >= r.AgeFrom && age.Values[at] < r.AgeTo) is not { } cutOff)
                result.SetMissing(row, "no cut-off for this age");
            else if (tally.Met >= cutOff.AtLeast)
                result.Set(row, 1);
            else if (tally.Met + tally.Unknown < cutOff.AtLeast)
                result.Set(row, 0);
            else
                result.SetMissing(row, CannotTell);
        }
        ImmutableArray<CodeDefinition> codes = [.. ReadingMeasureRules.CutOffs.Select(c => new CodeDefinition(c, c))];
        return result.Build(measure, codes);
    }

    /// <summary>The cut-offs in words.</summary>
    internal static string Words(CutOffMeasure measure, int components) => string.Join("; ", measure.Rows.Select(r => string.Create(
        CultureInfo.InvariantCulture, $"at least {r.AtLeast:0.##} of {components} from {r.AgeFrom:0.##} to under {r.AgeTo:0.##} years")));
}
