using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>The planned Cox regression with one hazard ratio of each exposure up to a time and another after it.</summary>
/// <remarks>
/// Every row is cut at that time; exposures get a column for each part, adjustment and products stay as planned. Whether the
/// two ratios are equal is told by a Wald test of their difference.
/// </remarks>
internal static class SplitHazards
{
    internal static QuestionResult Answer(AnalysisInput input, double split)
    {
        string unit = input.Question.TimeUnit ?? "time";
        string time = FormattableString.Invariant($"{split:0.###} {unit}");
        Pieces pieces = Cut(TimeToFirstAnalysis.Times(input), split);
        ModelTerm[] terms = [.. input.Terms.Terms.SelectMany(t => t.Role == "exposure" ? InParts(t, pieces, time) : [OnPieces(t, pieces)])];
        CoxFit fit = CoxRegression.Fit(
            pieces.Times, DesignMatrix.FromColumns([.. terms.Select(t => (t.Name, (IReadOnlyList<double>)t.Values))]), input.Clusters().SelectRows(pieces.Row));
        ImmutableArray<EstimateRow> rows = EstimateRows.Ratios(fit.Coefficients, input.Terms with { Terms = [.. terms] }, "hazard ratio");
        string tests = string.Join("; ", input.Terms.Terms.Where(t => t.Role == "exposure").Select(t => $"{t.Label}: {Sentences.PValue(Difference(fit.Coefficients, t.Name))}"));
        return input.Result($"{Sentences.Answer(rows, input)} Difference between the two parts: {tests}.", string.Empty) with
        {
            Estimates = rows,
            Counts = input.Counts(fit.Events, TimeToFirstAnalysis.TimeAtRisk(input)),
            Warnings = [.. fit.Warnings],
        };
    }

    private static Pieces Cut(SurvivalTimes times, double split)
    {
        List<double> entry = [], exit = [];
        List<bool> happened = [], late = [];
        List<int> row = [];
        for (int i = 0; i < times.Rows; i++)
        {
            (double from, double to) = (times.Entry[i], times.Exit[i]);
            if (from < split)
                Add(i, from, Math.Min(to, split), times.IsEvent[i] && to <= split, false);
            if (to > split)
                Add(i, Math.Max(from, split), to, times.IsEvent[i], true);
        }
        return new Pieces(SurvivalTimes.CountingProcess(entry, exit, happened), [.. row], [.. late]);

        void Add(int source, double from, double to, bool isEvent, bool isLate)
        {
            entry.Add(from);
            exit.Add(to);
            happened.Add(isEvent);
            row.Add(source);
            late.Add(isLate);
        }
    }

    private static IEnumerable<ModelTerm> InParts(ModelTerm term, Pieces pieces, string time)
    {
        yield return term with
        {
            Name = Early(term.Name),
            Label = $"{term.Label}, up to {time}",
            Values = [.. pieces.Row.Select((r, i) => pieces.Late[i] ? 0 : term.Values[r])],
        };
        yield return term with
        {
            Name = Late(term.Name),
            Label = $"{term.Label}, after {time}",
            Values = [.. pieces.Row.Select((r, i) => pieces.Late[i] ? term.Values[r] : 0)],
        };
    }

    private static ModelTerm OnPieces(ModelTerm term, Pieces pieces) => term with { Values = [.. pieces.Row.Select(r => term.Values[r])] };

    private static double Difference(Coefficients fit, string term)
    {
        double[] weights = new double[fit.Values.Count];
        weights[fit.IndexOf(Late(term))] = 1;
        weights[fit.IndexOf(Early(term))] = -1;
        return fit.Combination($"{term}, late against early", weights).PValue;
    }

    private static string Early(string term) => $"{term} (early)";

    private static string Late(string term) => $"{term} (late)";

    private sealed record Pieces(SurvivalTimes Times, int[] Row, bool[] Late);
}
