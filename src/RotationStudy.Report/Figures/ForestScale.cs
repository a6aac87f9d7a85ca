using System.Collections.Immutable;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>The axis of a forest: which estimates it can carry, and how far it runs.</summary>
/// <param name="IsRatio">Whether it carries ratios, on a logarithmic axis.</param>
/// <param name="Unit">Unit of the differences it carries; null for ratios.</param>
/// <param name="Axis">The axis, in log10 for ratios.</param>
/// <param name="Label">Label.</param>
internal sealed record ForestScale(bool IsRatio, string? Unit, AxisScale Axis, string Label)
{
    /// <summary>How far beyond the outermost estimate a ratio axis runs: an interval longer than that ends in an arrow.</summary>
    private const double LongestReach = 4;

    internal double NoEffect => IsRatio ? 1 : 0;

    internal bool Holds(EstimateRow row) => Carries(row, IsRatio, Unit);

    internal double ToAxis(double value) => IsRatio ? value > 0 ? Math.Log10(value) : double.NegativeInfinity : value;

    internal static ForestScale Of(ImmutableArray<QuestionResult> questions, ImmutableArray<double> across)
    {
        ImmutableArray<EstimateRow> all = [.. questions.SelectMany(q => ForestRows.Exposures(q))];
        bool ratio = all.Any(NumberFormat.IsRatio);
        string? unit = ratio ? null : all[0].Unit;
        ImmutableArray<EstimateRow> rows = [.. all.Where(r => Carries(r, ratio, unit))];
        ForestScale scale = ratio ? OfRatios(rows) : OfDifferences(rows, unit);
        return across is [double from, double to]
            ? scale with { Axis = ratio ? AxisScale.Logarithmic(from, to) : AxisScale.Between(from, to, 6) }
            : scale;
    }

    private static bool Carries(EstimateRow row, bool ratio, string? unit)
        => NumberFormat.IsRatio(row) == ratio && (ratio || row.Unit == unit);

    private static ForestScale OfRatios(ImmutableArray<EstimateRow> rows)
    {
        double[] values = [1, .. rows.Select(r => r.Value).Where(v => v > 0 && double.IsFinite(v))];
        double least = values.Min() / LongestReach, most = values.Max() * LongestReach;
        double low = rows.Select(r => r.Lower).Where(v => v > 0 && double.IsFinite(v)).Append(0.8).Min();
        double high = rows.Select(r => r.Upper).Where(double.IsFinite).Append(1.25).Max();
        // An end that runs off needs room for its arrow beside the estimate.
        (low, high) = (Math.Min(low, values.Min() / (rows.Any(r => r.Lower <= 0) ? 1.6 : 1)), Math.Max(high, values.Max() * (rows.Any(r => double.IsPositiveInfinity(r.Upper)) ? 1.6 : 1)));
        string kinds = string.Join(", ", rows.Select(r => r.Scale).Distinct());
        return new ForestScale(true, null, AxisScale.Logarithmic(Math.Max(low, least) / 1.08, Math.Min(high, most) * 1.08), $"{kinds} (logarithmic axis)");
    }

    private static ForestScale OfDifferences(ImmutableArray<EstimateRow> rows, string? unit)
    {
        double[] ends = [0, .. rows.SelectMany(r => new[] { r.Value, r.Lower, r.Upper }).Where(double.IsFinite)];
        return new ForestScale(false, unit, AxisScale.Linear(ends.Min(), ends.Max(), 6), unit is null ? "difference" : $"difference ({unit})");
    }
}
