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

    // Common practice, no source: a binary fit wants ten rows or more of the rarer outcome per term.
    private const int FewestRowsPerTerm = 10;

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
            Diagnostics = [Diagnostics.PersonsPerParameter(input), OneRatioForAllCuts(input), Diagnostics.Convergence(fit.Iterations)],
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
        const string check = CheckNames.OneOddsRatio;
        (int[] categories, string[] labels) = Categories(input);
        string cuts = string.Empty;
        try
        {
            TestResult test;
            try
            {
                test = ProportionalityTest.Brant(input.Design(), categories, labels, input.Clusters()).Overall;
            }
            catch (SeparationError)
            {
                (categories, labels) = Joined(categories, labels, FewestRowsPerTerm * input.Terms.Terms.Length);
                cuts = $"; of the {labels.Length - 1} cuts with {FewestRowsPerTerm} rows or more per term on both sides";
                test = ProportionalityTest.Brant(input.Design(), categories, labels, input.Clusters()).Overall;
            }
            string how = $"{Sentences.PValue(test.PValue)}, Brant, clustered{cuts}";
            return test.PValue < Suspicious
                ? new DiagnosticRow(check, false, $"Odds ratios seem to differ between cuts of the scale ({how}). Read the odds ratio as an average over the cuts.")
                : new DiagnosticRow(check, true, $"No sign that odds ratios differ between cuts of the scale ({how}).");
        }
        catch (StatisticsError error)
        {
            return new DiagnosticRow(check, null, $"It cannot be checked: {error.What}.");
        }
    }

    /// <summary>Neighbouring categories joined where the cut between them has fewer rows on one side than asked for.</summary>
    private static (int[] Categories, string[] Labels) Joined(int[] categories, string[] labels, int fewest)
    {
        int[] joined = new int[labels.Length];
        int above = categories.Length;
        int below = 0;
        for (int c = 0; c + 1 < labels.Length; c++)
        {
            int here = categories.Count(k => k == c);
            below += here;
            above -= here;
            joined[c + 1] = joined[c] + (below >= fewest && above >= fewest ? 1 : 0);
        }
        return ([.. categories.Select(c => joined[c])], [.. labels.Select((l, c) => (l, joined[c])).GroupBy(l => l.Item2).Select(g => string.Join(" or ", g.Select(l => l.l)))]);
    }
}
