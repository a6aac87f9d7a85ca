namespace RotationStudy.Statistics.Curves;

/// <summary>What a summary takes from a curve.</summary>
public enum CurveFeature
{
    /// <summary>Mean height: the area under the curve over the length of the arc.</summary>
    MeanHeight,

    /// <summary>The largest value.</summary>
    Largest,

    /// <summary>The largest less the smallest value.</summary>
    Span,

    /// <summary>Slope of the least-squares line, per unit of the grid.</summary>
    Slope,
}

/// <summary>One number from a curve over an arc of the grid.</summary>
/// <remarks>
/// The area is by trapezoids between the points of the grid within the arc, and its mean height keeps the unit of the curve.
/// The largest value of a noisy curve lies above the largest of its true course, by more the noisier it is: groups of unequal
/// noise differ in it without differing in their curves. A curve with a gap in the arc has no summary: nothing is filled in.
/// <b>Sources.</b> Matthews JNS, Altman DG, Campbell MJ, Royston P, BMJ 1990;300:230-235 (summary measures of serial data).
/// <b>Checked against</b> cases by hand.
/// </remarks>
public static class CurveSummary
{
    /// <summary>The summary of one curve; null where a value is missing in the arc.</summary>
    /// <param name="feature">What to take.</param>
    /// <param name="grid">The grid, increasing.</param>
    /// <param name="values">The curve; null for a gap.</param>
    /// <param name="from">Start of the arc, inclusive.</param>
    /// <param name="to">End of the arc, inclusive.</param>
    /// <exception cref="TooFewDataError">No point of the grid in the arc, or one where two are needed.</exception>
    public static double? Of(CurveFeature feature, IReadOnlyList<double> grid, IReadOnlyList<double?> values, double from, double to)
    {
        Require.SameLength(values.Count, grid.Count, "curve");
        List<double> x = [];
        List<double> y = [];
        for (int j = 0; j < grid.Count; j++)
        {
            if (grid[j] < from || grid[j] > to)
                continue;
            if (values[j] is not { } value)
                return null;
            x.Add(grid[j]);
            y.Add(value);
        }
        int needed = feature is CurveFeature.Largest or CurveFeature.MeanHeight ? 1 : 2;
        if (x.Count < needed)
            throw new TooFewDataError(FormattableString.Invariant($"the arc from {from} to {to} has {x.Count} points of the grid"), "Widen the arc.");
        return feature switch
        {
            CurveFeature.MeanHeight => MeanHeight(x, y),
            CurveFeature.Largest => y.Max(),
            CurveFeature.Span => y.Max() - y.Min(),
            CurveFeature.Slope => Slope(x, y),
            _ => throw new ArgumentOutOfRangeException(nameof(feature)),
        };
    }

    private static double MeanHeight(List<double> x, List<double> y)
    {
        if (x.Count == 1)
            return y[0];
        double area = 0;
        for (int j = 1; j < x.Count; j++)
            area += (x[j] - x[j - 1]) * (y[j] + y[j - 1]) / 2;
        return area / (x[^1] - x[0]);
    }

    private static double Slope(List<double> x, List<double> y)
    {
        double middle = x.Average();
        double height = y.Average();
        double cross = 0;
        double squares = 0;
        for (int j = 0; j < x.Count; j++)
        {
            cross += (x[j] - middle) * (y[j] - height);
            squares += (x[j] - middle) * (x[j] - middle);
        }
        return cross / squares;
    }
}
