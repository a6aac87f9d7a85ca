using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>E-values of the exposures' ratios, on the scale that stands for a risk ratio.</summary>
internal static class EValueWords
{
    // VanderWeele and Ding 2017: below 15% odds and hazard ratios stand for risk ratios (recalled, not re-read).
    private const double CommonShare = 0.15;

    internal static IEnumerable<EValueFacts> Of(QuestionResult answer, AnalysisInput input)
    {
        double? spread = input.Question.Kind == QuestionKind.Mean ? StandardDeviation(input.Values(input.Question.Outcome)) : null;
        bool common = answer.Counts.Rows > 0 && answer.Counts.Events / (double)answer.Counts.Rows > CommonShare;
        foreach (EstimateRow row in answer.Estimates.Where(e => e.Role == "exposure" && double.IsFinite(e.Value) && (e.NoEffect == 0 ? spread > 0 : e.Value > 0)))
        {
            (Func<double, double> map, string scale) = row.Scale switch
            {
                "rate ratio" or "ratio of mean numbers" => ((Func<double, double>)(v => v), $"the {row.Scale} as it is"),
                "difference" when spread is { } sd => (v => EValue.RiskRatioFromDifference(v / sd), $"the difference over the standard deviation of the outcome, {Sentences.Number(sd)}, brought to a risk ratio"),
                "odds ratio" when common || answer.Kind == "ordered_odds" => (EValue.RiskRatioFromOdds, "the square root of the odds ratio, since the outcome is common"),
                "hazard ratio" when common => (EValue.RiskRatioFromHazard, "the risk ratio that goes with the hazard ratio, since the outcome is common"),
                "odds ratio" or "hazard ratio" => (v => v, $"the {row.Scale}, near a risk ratio since the outcome is rare"),
                _ => (v => v, string.Empty),
            };
            if (scale.Length == 0)
                continue;
            EValue value = EValue.OfRiskRatio(map(row.Value), new ConfidenceInterval(map(row.Lower), map(row.Upper), ConfidenceInterval.DefaultLevel));
            string interval = value.OfInterval > 1 ? $"to move the interval to it, {Sentences.Number(value.OfInterval)}" : "the interval holds no association already";
            yield return new EValueFacts(
                row.Term, row.Label, value.OfEstimate, value.OfInterval,
                $"To move the estimate to no association, an unmeasured confounder would need a risk ratio of {Sentences.Number(value.OfEstimate)} with both exposure and outcome, beyond the adjustment; {interval} (from {scale}; per the step of the estimate).");
        }
    }

    private static double StandardDeviation(ImmutableArray<double> values)
    {
        double mean = values.Average();
        return values.Length < 2 ? 0 : Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1));
    }
}
