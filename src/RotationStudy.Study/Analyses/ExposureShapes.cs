using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Shape;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Each continuous exposure of a question as a restricted cubic spline in the planned model, with the test of non-linearity.</summary>
internal static class ExposureShapes
{
    private const int FewestValues = 6;
    private const int MostPoints = 60;
    private const double Suspicious = 0.05;

    internal static (ImmutableArray<ShapeCurve> Curves, ImmutableArray<DiagnosticFinding> Findings) Draw(AnalysisInput input)
    {
        List<ShapeCurve> curves = [];
        List<DiagnosticFinding> findings = [];
        foreach (ExposureTerm exposure in input.Question.Exposures.Where(e => !input.Measures[e.Measure].IsCoded))
        {
            ModelTerm term = input.Terms.Terms.First(t => t.Name == exposure.Measure);
            string check = CheckNames.Line(input.Measures[exposure.Measure].Definition.Label);
            int different = term.Values.Distinct().Count();
            if (different == 2)
                continue;
            if (different < FewestValues)
            {
                findings.Add(new DiagnosticFinding(check, FindingStatus.NotCheckable, "Too few different values for a curve.", null));
                continue;
            }
            try
            {
                ShapeCurve curve = Curve(input, exposure, term);
                curves.Add(curve);
                findings.Add(new DiagnosticFinding(
                    check, curve.NonLinearityPValue < Suspicious ? FindingStatus.Doubtful : FindingStatus.Held, curve.Words,
                    curve.NonLinearityPValue < Suspicious ? "the curve of this exposure" : null));
            }
            catch (StatisticsError error)
            {
                findings.Add(new DiagnosticFinding(check, FindingStatus.NotCheckable, $"The curve could not be fitted: {error.What}.", null));
            }
        }
        return ([.. curves], [.. findings]);
    }

    private static ShapeCurve Curve(AnalysisInput input, ExposureTerm exposure, ModelTerm term)
    {
        RestrictedCubicSpline spline = RestrictedCubicSpline.AtQuantiles(term.Values, input.Question.ShapeKnots);
        ModelTerm[] columns = [.. Statistics.Shape.Curve.Columns(spline, term.Name, term.Values)
            .Select(c => new ModelTerm(c.Name, term.Label, term.Role, term.Measure, [.. c.Values]))];
        AnalysisInput curved = input with
        {
            Terms = input.Terms with { Terms = [.. columns, .. input.Terms.Terms.Where(t => t.Name != term.Name)] },
        };
        Coefficients fit = PlannedModel.Fit(curved);
        TestResult test = Statistics.Shape.Curve.NonlinearityTest(spline, fit, term.Name);
        double[] sorted = [.. term.Values.Order()];
        double lowest = sorted[(int)(0.02 * (sorted.Length - 1))];
        double highest = sorted[(int)(0.98 * (sorted.Length - 1))];
        // Drawn against the centre that the plan gave; where that lies outside the data, against the median.
        double reference = lowest <= 0 && highest >= 0 ? 0 : sorted[sorted.Length / 2];
        double InUnits(double scaled) => (scaled * exposure.Per) + exposure.Center;
        double[] at = RoundGrid(InUnits(lowest), InUnits(highest));
        double[] grid = [.. at.Select(v => (v - exposure.Center) / exposure.Per)];
        IReadOnlyList<CurvePoint> points = Statistics.Shape.Curve.Relative(spline, fit, term.Name, grid, reference);
        bool ratio = PlannedModel.IsRatio(input.Question.Kind);
        Func<double, double> map = ratio ? Math.Exp : v => v;
        MeasureDefinition definition = input.Measures[exposure.Measure].Definition;
        return new ShapeCurve(
            exposure.Measure, Labels.WithUnit(definition), PlannedModel.Scale(input.Question.Kind),
            ratio ? null : input.Measures[input.Question.Outcome!].Definition.Unit, ratio ? 1 : 0, InUnits(reference),
            [.. spline.Knots.Select(InUnits)], [.. at],
            [.. points.Select(p => map(p.Difference.Value))],
            [.. points.Select(p => map(p.Difference.Interval.Lower))],
            [.. points.Select(p => map(p.Difference.Interval.Upper))],
            test.PValue, Words(test, spline.Knots.Count, input.Terms.Terms.Any(t => t.Role == "interaction")))
        {
            Values = [.. term.Values.Select(InUnits)],
        };
    }

    /// <summary>Round values between two ends, so that the points of a curve can be read off and printed as they are.</summary>
    private static double[] RoundGrid(double from, double to)
    {
        (double low, double high) = (Math.Min(from, to), Math.Max(from, to));
        double power = Math.Pow(10, Math.Floor(Math.Log10((high - low) / MostPoints)));
        double step = power * new[] { 1.0, 2, 5, 10 }.First(f => (high - low) / (power * f) <= MostPoints);
        int first = (int)Math.Ceiling((low / step) - 1e-9);
        int last = (int)Math.Floor((high / step) + 1e-9);
        return [.. Enumerable.Range(first, last - first + 1).Select(k => Math.Round(k * step, 12))];
    }

    private static string Words(TestResult test, int knots, bool products)
    {
        string how = $"{Sentences.PValue(test.PValue)}, Wald test of a restricted cubic spline with {knots} knots at quantiles{(products ? "; products stay straight" : string.Empty)}";
        return test.PValue < Suspicious
            ? $"The relation seems to bend ({how}). The estimate is an average slope; the curve shows more."
            : $"No sign of a bend ({how}).";
    }
}
