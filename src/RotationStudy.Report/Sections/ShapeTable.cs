using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>The curve of an exposure in numbers: a few round values for the page, all points for the tables of the run.</summary>
internal static class ShapeTable
{
    private const int About = 7;

    /// <summary>Positions of about seven round values of the exposure.</summary>
    internal static IEnumerable<int> RoundPoints(ShapeCurve shape)
    {
        double range = shape.X[^1] - shape.X[0];
        double power = Math.Pow(10, Math.Floor(Math.Log10(range / About)));
        double step = power * new[] { 1.0, 2, 5, 10 }.First(f => range / (power * f) <= About);
        return Enumerable.Range(0, shape.X.Length).Where(i => Math.Abs((shape.X[i] / step) - Math.Round(shape.X[i] / step)) < 1e-6);
    }

    internal static string Number(ShapeCurve shape, double value)
        => shape.NoEffect == 1 ? NumberFormat.Ratio(value) : NumberFormat.Fixed(value, shape.Estimate.Max(Math.Abs) < 1 ? 3 : 2);

    /// <summary>All points.</summary>
    internal static FlatTable All(ShapeCurve shape) => new(
        [shape.Exposure, shape.Scale.Replace(' ', '_'), "lower_95", "upper_95", "reference"],
        [.. shape.X.Select((x, i) => ImmutableArray.Create<FlatCell>(x, shape.Estimate[i], shape.Lower[i], shape.Upper[i], shape.Reference))]);
}
