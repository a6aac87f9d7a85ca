using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>How the points of a plot are spread along each axis: bars above it and to its right.</summary>
internal static class MarginBars
{
    /// <summary>Room that a margin takes.</summary>
    internal const float Room = 26;

    private const float Gap = 4, BarRoom = Room - Gap - 2;
    private const int Bins = 30, FewValues = 15;

    internal static void Above(FigurePage page, PlotArea area, IReadOnlyList<double> values)
    {
        float bottom = area.Area.Top - Gap;
        foreach ((double from, double to, double share) in Bars(values, area.X))
            page.Box(new SKRect(area.ToX(from) + 0.3f, bottom - BarRoom * (float)share, area.ToX(to) - 0.3f, bottom), page.Style.Rule);
    }

    internal static void Right(FigurePage page, PlotArea area, IReadOnlyList<double> values)
    {
        float left = area.Area.Right + Gap;
        foreach ((double from, double to, double share) in Bars(values, area.Y))
            page.Box(new SKRect(left, area.ToY(to) + 0.3f, left + BarRoom * (float)share, area.ToY(from) - 0.3f), page.Style.Rule);
    }

    /// <summary>Bars within the axis, the highest of height 1: one per value where there are few, else of equal width.</summary>
    private static IEnumerable<(double From, double To, double Share)> Bars(IReadOnlyList<double> values, AxisScale axis)
    {
        double[] inside = [.. values.Where(v => v >= axis.Min && v <= axis.Max)];
        if (inside.Length == 0)
            return [];
        double[] distinct = [.. inside.Distinct().Order()];
        double width = distinct.Length <= FewValues && distinct.Length > 1
            ? distinct.Zip(distinct.Skip(1), (a, b) => b - a).Min()
            : (axis.Max - axis.Min) / Bins;
        double start = distinct.Length <= FewValues ? distinct[0] - width / 2 : axis.Min;
        (int Bin, int Count)[] bins = [.. inside.GroupBy(v => (int)Math.Floor((v - start) / width + 1e-9)).Select(g => (g.Key, g.Count()))];
        double most = bins.Max(b => b.Count);
        return bins.Select(b => (Math.Max(axis.Min, start + b.Bin * width), Math.Min(axis.Max, start + (b.Bin + 1) * width), b.Count / most));
    }
}
