using System.Collections.Immutable;

namespace RotationStudy.Report.Figures;

/// <summary>One axis: its ends and the ticks between them, in the axis' own coordinate (log10 for a logarithmic axis).</summary>
/// <param name="Min">Lower end.</param>
/// <param name="Max">Upper end.</param>
/// <param name="Ticks">Ticks, increasing, within the ends.</param>
internal sealed record AxisScale(double Min, double Max, ImmutableArray<AxisTick> Ticks)
{
    /// <summary>A linear axis that holds all values, with ticks at 1, 2, 2.5 or 5 times a power of ten.</summary>
    internal static AxisScale Linear(double min, double max, int wanted)
    {
        if (!(max > min))
            (min, max) = (min - Math.Max(0.5, Math.Abs(min) * 0.1), min + Math.Max(0.5, Math.Abs(min) * 0.1));
        double step = NiceStep((max - min) / Math.Max(1, wanted));
        double low = Math.Floor(min / step + 1e-9) * step, high = Math.Ceiling(max / step - 1e-9) * step;
        int decimals = Math.Clamp((int)Math.Ceiling(-Math.Log10(step) - 1e-9) + (IsQuarter(step) ? 1 : 0), 0, 10);
        int count = (int)Math.Round((high - low) / step);
        return new AxisScale(low, high,
            [.. Enumerable.Range(0, count + 1).Select(i => low + i * step).Select(v => new AxisTick(v, NumberFormat.Fixed(v, decimals)))]);
    }

    /// <summary>A linear axis that ends a little beyond the outermost values, not at ticks: no room is lost, no point is cut.</summary>
    internal static AxisScale Around(double min, double max, int wanted)
    {
        AxisScale whole = Linear(min, max, wanted);
        double room = max > min ? 0.03 * (max - min) : 0;
        double low = max > min ? min - room : whole.Min, high = max > min ? max + room : whole.Max;
        return new AxisScale(low, high, [.. whole.Ticks.Where(t => t.At >= low && t.At <= high)]);
    }

    /// <summary>A linear axis with these ends, whatever the data, with ticks where they fall.</summary>
    internal static AxisScale Between(double min, double max, int wanted)
        => new(min, max, [.. Linear(min, max, wanted).Ticks.Where(t => t.At >= min - 1e-9 && t.At <= max + 1e-9)]);

    /// <summary>The same axis with ticks at whole numbers only.</summary>
    internal AxisScale WholeNumbers() => this with { Ticks = [.. Ticks.Where(t => t.At == Math.Floor(t.At)).Select(t => new AxisTick(t.At, NumberFormat.Brief(t.At)))] };

    /// <summary>A logarithmic axis for ratios that holds all values, in log10, with ticks at 1, 2, 5 or at powers of ten.</summary>
    internal static AxisScale Logarithmic(double min, double max)
    {
        double low = Math.Log10(min), high = Math.Log10(max);
        double[] steps = high - low > 3 ? [1] : high - low > 0.7 ? [1, 2, 5] : [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8];
        List<AxisTick> ticks = [];
        for (int power = (int)Math.Floor(low); power <= Math.Ceiling(high); power++)
        {
            foreach (double step in steps)
            {
                double value = step * Math.Pow(10, power), place = Math.Log10(value);
                if (place >= low - 1e-9 && place <= high + 1e-9)
                    ticks.Add(new AxisTick(place, NumberFormat.Brief(value)));
            }
        }
        return new AxisScale(low, high, [.. ticks]);
    }

    private static double NiceStep(double rough)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double unit = rough / power;
        return power * (unit <= 1.0001 ? 1 : unit <= 2.0001 ? 2 : unit <= 2.5001 ? 2.5 : unit <= 5.0001 ? 5 : 10);
    }

    private static bool IsQuarter(double step) => Math.Abs(step / Math.Pow(10, Math.Floor(Math.Log10(step))) - 2.5) < 1e-6;
}

/// <summary>A tick of an axis.</summary>
/// <param name="At">Coordinate.</param>
/// <param name="Label">What it says.</param>
internal readonly record struct AxisTick(double At, string Label);
