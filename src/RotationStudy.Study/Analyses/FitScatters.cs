using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>For every numeric exposure of a linear model: the points, and the fitted mean with its band, other terms at their means.</summary>
internal static class FitScatters
{
    private const int LinePoints = 41;

    internal static ImmutableArray<FitScatter> Draw(AnalysisInput input, LinearRegressionResult fit, Coefficients robust)
        => [.. input.Question.Exposures.Where(e => !input.Measures[e.Measure].IsCoded).Select(e => Draw(input, e, fit, robust))];

    private static FitScatter Draw(AnalysisInput input, ExposureTerm exposure, LinearRegressionResult fit, Coefficients robust)
    {
        ImmutableArray<double> x = input.Values(exposure.Measure);
        double lowest = x.Min();
        double highest = x.Max();
        double[] line = [.. Enumerable.Range(0, LinePoints).Select(i => lowest + ((highest - lowest) * i / (LinePoints - 1)))];
        IReadOnlyList<LinearPrediction> predicted = fit.Predict(LineDesign(input, exposure, line), robust);
        return new FitScatter(
            exposure.Measure,
            Labels.WithUnit(input.Measures[exposure.Measure].Definition),
            Labels.WithUnit(input.Measures[input.Question.Outcome!].Definition),
            x,
            input.Values(input.Question.Outcome),
            input.Table.Level.HasSides() ? [.. input.Table.Keys.Select(k => k.Side)] : [],
            [.. line],
            [.. predicted.Select(p => p.Mean.Value)],
            [.. predicted.Select(p => p.Mean.Interval.Lower)],
            [.. predicted.Select(p => p.Mean.Interval.Upper)]);
    }

    private static DesignMatrix LineDesign(AnalysisInput input, ExposureTerm exposure, double[] line)
    {
        Dictionary<string, double[]> columns = [];
        foreach (ModelTerm term in input.Terms.Terms.Where(t => t.Role != "interaction"))
        {
            double mean = term.Values.Average();
            columns[term.Name] = term.Name == exposure.Measure
                ? [.. line.Select(v => (v - exposure.Center) / exposure.Per)]
                : [.. line.Select(_ => mean)];
        }
        // A product follows the line of its two factors.
        foreach (ModelTerm product in input.Terms.Terms.Where(t => t.Role == "interaction"))
        {
            string[] factors = product.Name.Split(" x ");
            columns[product.Name] = [.. columns[factors[0]].Zip(columns[factors[1]], (a, b) => a * b)];
        }
        return DesignMatrix.WithIntercept([.. input.Terms.Terms.Select(t => (t.Name, (IReadOnlyList<double>)columns[t.Name]))]);
    }
}
