using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Agreement;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>The planned estimates beside those corrected for error of measurement by regression calibration.</summary>
/// <remarks>
/// The rows and the model are those of the planned answer. The error's uncertainty is carried into the interval; beside it
/// stand the estimates for the ends of the error's own interval, since what is feared is an error that is larger than found.
/// </remarks>
internal static class MeasurementErrorAnalysis
{
    private const double FewDegreesOfFreedom = 10;
    private const double LowReliability = 0.5;

    internal static MeasurementErrorComparison? Compare(AnalysisInput input, QuestionResult answer)
    {
        if (input.Question.MeasurementError.IsEmpty)
            return null;
        MeasurementErrorApproach planned = new("As planned, not corrected", [.. answer.Estimates.Where(IsExposure)]);
        try
        {
            ReadingError[] errors = [.. input.Question.MeasurementError.Select(p => ReadingError.Of(p, input))];
            MeasurementErrorEstimate[] sizes = [.. errors.Select(e => MeasurementError.FromVariance(e.Variance, Math.Min(e.DegreesOfFreedom, 1e6)))];
            Coefficients fitted = PlannedModel.Fit(input);
            RegressionCalibrationResult found = Calibrate(input, fitted, [.. errors.Select(e => (e.Variance, e.DegreesOfFreedom))]);
            ImmutableArray<MeasurementErrorFacts> facts = [.. Facts(input, errors, sizes, found)];
            MeasurementErrorApproach[] corrected =
            [
                new("Corrected for the error as found", Rows(input, found.Corrected)),
                AtSize("Corrected, error at the lower end of its interval", input, fitted, [.. sizes.Select(s => s.StandardErrorInterval.Lower)]),
                AtSize("Corrected, error at the upper end of its interval", input, fitted, [.. sizes.Select(s => s.StandardErrorInterval.Upper)]),
            ];
            return new MeasurementErrorComparison(facts, [planned, .. corrected], Sentence(planned, corrected[0], facts), Method(input, found), [.. Assumptions(input, facts)]);
        }
        catch (StatisticsError error)
        {
            return new MeasurementErrorComparison([], [planned], $"No correction for error of measurement: {error.What}. {error.Hint}", string.Empty, []);
        }
    }

    private static bool IsExposure(EstimateRow row) => row.Role is "exposure" or "interaction";

    private static RegressionCalibrationResult Calibrate(AnalysisInput input, Coefficients fitted, (double Variance, double DegreesOfFreedom)[] errors)
        => RegressionCalibration.Correct(
            fitted, input.Design(), input.Clusters(),
            [.. input.Question.MeasurementError.Select((p, i) =>
            {
                double step = Step(input.Question, p.Measure);
                return new ColumnError(Term(input, p.Measure).Name, errors[i].Variance / (step * step), errors[i].DegreesOfFreedom);
            })]);

    private static ModelTerm Term(AnalysisInput input, string measure)
        => input.Terms.Terms.FirstOrDefault(t => t.Measure == measure && t.Role != "interaction")
            ?? throw new TooFewDataError($"'{measure}' is not in the model as fitted", "It does not vary in these rows.");

    private static double Step(QuestionDefinition question, string measure)
        => question.Exposures.FirstOrDefault(e => e.Measure == measure)?.Per ?? question.Adjustment.First(a => a.Measure == measure).Per;

    private static MeasurementErrorApproach AtSize(string name, AnalysisInput input, Coefficients fitted, double[] sizes)
    {
        try
        {
            return new MeasurementErrorApproach(name, Rows(input, Calibrate(input, fitted, [.. sizes.Select(s => (s * s, double.PositiveInfinity))]).Corrected));
        }
        catch (InvalidInputError)
        {
            // An error of this size would explain all that varies; the row says so by being empty.
            return new MeasurementErrorApproach(name, []);
        }
    }

    private static ImmutableArray<EstimateRow> Rows(AnalysisInput input, Coefficients corrected)
    {
        ModelTerms exposures = input.Terms with { Terms = [.. input.Terms.Terms.Where(t => t.Role != "adjustment")] };
        return PlannedModel.IsRatio(input.Question.Kind)
            ? EstimateRows.Ratios(corrected, exposures, PlannedModel.Scale(input.Question.Kind))
            : EstimateRows.Differences(corrected, exposures, input.Measures[input.Question.Outcome!].Definition.Unit);
    }

    private static IEnumerable<MeasurementErrorFacts> Facts(
        AnalysisInput input, ReadingError[] errors, MeasurementErrorEstimate[] sizes, RegressionCalibrationResult found)
        => input.Question.MeasurementError.Select((p, i) =>
        {
            MeasureDefinition definition = input.Measures[p.Measure].Definition;
            return new MeasurementErrorFacts(
                p.Measure, definition.Label, definition.Unit, sizes[i].StandardErrorOfMeasurement,
                sizes[i].StandardErrorInterval.Lower, sizes[i].StandardErrorInterval.Upper, errors[i].DegreesOfFreedom,
                found.Columns[i].Reliability, found.Columns[i].ConditionalReliability, errors[i].Words);
        });

    private static string Sentence(MeasurementErrorApproach planned, MeasurementErrorApproach corrected, ImmutableArray<MeasurementErrorFacts> facts)
    {
        string moved = string.Join("; ", planned.Estimates.Zip(corrected.Estimates, (p, c) =>
            $"{p.Label}: from {Sentences.Number(p.Value)} to {Sentences.Number(c.Value)} (95% CI {Sentences.Number(c.Lower)} to {Sentences.Number(c.Upper)})"));
        bool same = planned.Estimates.Zip(corrected.Estimates, (p, c) => Excludes(p) == Excludes(c)).All(e => e);
        string reading = same ? "The reading of the answer does not change." : "The reading of the answer changes.";
        string reliability = Sentences.List(facts.Select(f => $"{Sentences.LowerFirst(f.Label)} ({Sentences.Number(100 * f.Reliability)}% of its variance is no error)"));
        return $"Corrected for the error of {reliability}, estimates move. {moved}. {reading}";
    }

    private static bool Excludes(EstimateRow row) => row.Lower > row.NoEffect || row.Upper < row.NoEffect;

    private static string Method(AnalysisInput input, RegressionCalibrationResult found)
    {
        double share = input.Terms.Terms.Select((t, i) => t.Role == "adjustment" ? 0 : found.ShareFromError[i]).Max();
        return $"Regression calibration of the planned model's coefficients; interval by the delta method with the uncertainty of the error, which makes up to {Sentences.Number(100 * share)}% of the variance of an estimate. "
            + string.Join(' ', input.Question.MeasurementError.Select(p => p.Reason));
    }

    private static IEnumerable<string> Assumptions(AnalysisInput input, ImmutableArray<MeasurementErrorFacts> facts)
    {
        yield return "The error is classical: it does not depend on the true value, on the other terms, or on the outcome. A rater who knows the outcome breaks this, and then the correction may lead away from the truth.";
        yield return "The error of the readings that tell its size is the error of the readings in this model: same raters, same training, same kind of person.";
        yield return input.Question.Kind == QuestionKind.Mean
            ? "The true value depends on the recorded ones in straight lines. For a mean the correction is then exact in large samples."
            : "The true value depends on the recorded ones in straight lines, and the association over the width of the error is not strong (as a guide, the logarithm of the ratio per standard deviation of the error below one half). For ratios the correction is an approximation, which falls short where associations are strong.";
        yield return "A second error that all readings share (a picture taken once and read twice, a method that is off) is not seen, and estimates remain too close to no association by it.";
        foreach (MeasurementErrorFacts fact in facts.Where(f => f.DegreesOfFreedom < FewDegreesOfFreedom))
            yield return $"The error of {Sentences.LowerFirst(fact.Label)} is known on {Sentences.Number(fact.DegreesOfFreedom)} degrees of freedom only: the corrected interval is rough; read the ends of the error's interval beside it.";
        foreach (MeasurementErrorFacts fact in facts.Where(f => f.ConditionalReliability < LowReliability))
            yield return $"Given the other terms, less than half of what varies in {Sentences.LowerFirst(fact.Label)} is no error: the correction more than doubles an estimate and depends on assumptions more than on data.";
    }
}
