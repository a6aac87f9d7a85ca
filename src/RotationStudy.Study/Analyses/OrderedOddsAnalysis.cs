using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>An ordered outcome: proportional-odds regression with variance by participant; the assumption of one odds ratio is tested.</summary>
internal static class OrderedOddsAnalysis
{
    private const double Suspicious = 0.05;

    internal static QuestionResult Answer(AnalysisInput input)
    {
        ProportionalOddsFit fit = Fit(input, input.Clusters());
        ImmutableArray<EstimateRow> rows = EstimateRows.Ratios(fit.Coefficients, input.Terms, "odds ratio");
        string outcome = Sentences.LowerFirst(input.Measures[input.Question.Outcome!].Definition.Label);
        return input.Result(
            Sentences.Answer(rows, input),
            $"Proportional-odds regression of {outcome} in {fit.Categories.Count} ordered categories; an odds ratio is that of being above any cut of the scale (maximum likelihood; {fit.Coefficients.VarianceMethod}, clustered by {input.Protocol.Study.ParticipantWords.One}).") with
        {
            Estimates = rows,
            Citations = [Sources.McCullagh, Sources.LiangZeger],
            Diagnostics = [OneRatioForAllCuts(input)],
            Warnings = [.. input.Terms.Omitted, .. fit.Warnings],
        };
    }

    internal static ProportionalOddsFit Fit(AnalysisInput input, Clusters? clusters)
    {
        (int[] categories, string[] labels) = Categories(input);
        return ProportionalOddsRegression.Fit(input.Design(), categories, labels, clusters);
    }

    /// <summary>Codes in their declared order, or the numbers that occur, lowest first.</summary>
    private static (int[] Categories, string[] Labels) Categories(AnalysisInput input)
    {
        MeasureColumn measure = input.Measures[input.Question.Outcome!];
        ImmutableArray<double> values = input.Values(input.Question.Outcome);
        if (measure.IsCoded)
            return ([.. values.Select(v => (int)v)], [.. measure.Codes.Select(c => c.Code)]);
        double[] levels = [.. values.Distinct().Order()];
        return ([.. values.Select(v => Array.BinarySearch(levels, v))], [.. levels.Select(Sentences.Number)]);
    }

    private static DiagnosticRow OneRatioForAllCuts(AnalysisInput input)
    {
        const string check = "One odds ratio for all cuts";
        try
        {
            (int[] categories, string[] labels) = Categories(input);
            TestResult test = ProportionalityTest.Brant(input.Design(), categories, labels, input.Clusters()).Overall;
            return test.PValue < Suspicious
                ? new DiagnosticRow(check, false, $"Odds ratios seem to differ between cuts of the scale ({Sentences.PValue(test.PValue)}, Brant, clustered). Read the odds ratio as an average over the cuts.")
                : new DiagnosticRow(check, true, $"No sign that odds ratios differ between cuts of the scale ({Sentences.PValue(test.PValue)}, Brant, clustered).");
        }
        catch (StatisticsError error)
        {
            return new DiagnosticRow(check, null, $"It cannot be checked: {error.What}.");
        }
    }
}
