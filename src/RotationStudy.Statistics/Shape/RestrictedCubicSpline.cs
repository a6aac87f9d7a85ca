using RotationStudy.Statistics.Descriptive;

namespace RotationStudy.Statistics.Shape;

/// <summary>A restricted cubic spline: cubic between knots, smooth at them, a straight line beyond the outer ones.</summary>
/// <remarks>
/// <para><b>Basis</b> for knots t_1 &lt; ... &lt; t_k: the line x, and for j = 1 ... k-2 the column [(x-t_j)+^3 -
/// (x-t_(k-1))+^3 (t_k-t_j)/(t_k-t_(k-1)) + (x-t_k)+^3 (t_(k-1)-t_j)/(t_k-t_(k-1))] / (t_k-t_1)^2. The division by the
/// squared range puts every column on the scale of x; without it coefficients differ, fitted values do not.</para>
/// <para><b>Knots</b> by default lie at quantiles of type 7: outer shares .10 for 3 knots, .05 for 4 to 6, .025 for 7,
/// the inner ones equally spaced between (Harrell's table). Under 100 values some libraries move the outer knots to the
/// fifth smallest and largest value; here they stay quantiles.</para>
/// <para><b>Edges</b>: with many ties quantiles may coincide; then the knots are refused rather than silently fewer.
/// Beyond the outer knots the curve is linear by construction, not because the data say so.</para>
/// <para><b>Sources</b>: Stone CJ, Koo CY. Proc Stat Comp Sect ASA 1985:45-48; Harrell FE. Regression Modeling
/// Strategies, sections 2.4.5 and 2.4.6.</para>
/// <para><b>Checked against</b>: Shape/rcs_basis.</para>
/// </remarks>
public sealed class RestrictedCubicSpline : ICurveBasis
{
    private readonly double[] knots;

    /// <summary>A spline with given knots.</summary>
    /// <param name="knots">Three or more, strictly increasing, in the unit of the quantity.</param>
    /// <exception cref="InvalidInputError">Fewer than three knots, or knots that do not increase.</exception>
    public RestrictedCubicSpline(IReadOnlyList<double> knots)
    {
        this.knots = [.. knots];
        Require.Finite(this.knots, "knots");
        if (this.knots.Length < 3)
            throw new InvalidInputError($"{this.knots.Length} knots make no restricted cubic spline", "Give three to seven knots.");
        for (int j = 1; j < this.knots.Length; j++)
        {
            if (!(this.knots[j] > this.knots[j - 1]))
            {
                throw new InvalidInputError(
                    $"knots {j - 1} and {j} lie at {this.knots[j - 1]} and {this.knots[j]}, which does not increase",
                    "With many ties take fewer knots, or place them by hand.",
                    j);
            }
        }
    }

    /// <summary>The knots.</summary>
    public IReadOnlyList<double> Knots => knots;

    /// <inheritdoc/>
    public int Dimension => knots.Length - 1;

    /// <inheritdoc/>
    public int LinearColumns => 1;

    /// <summary>A spline with knots at the default quantiles of the values.</summary>
    /// <param name="values">Values of the quantity.</param>
    /// <param name="count">Number of knots, 3 to 7.</param>
    /// <exception cref="InvalidInputError">Another number of knots, or quantiles that coincide.</exception>
    public static RestrictedCubicSpline AtQuantiles(IReadOnlyList<double> values, int count = 4)
    {
        if (count is < 3 or > 7)
            throw new InvalidInputError($"{count} knots have no default place", "Take 3 to 7, or place them by hand.");
        double outer = count switch { 3 => 0.10, 7 => 0.025, _ => 0.05 };
        double[] sorted = Quantile.Sorted(values, "values");
        double[] knots = new double[count];
        for (int j = 0; j < count; j++)
            knots[j] = Quantile.OfSorted(sorted, outer + (j * (1 - (2 * outer)) / (count - 1)));
        return new RestrictedCubicSpline(knots);
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> Names(string quantity)
        => [quantity, .. Enumerable.Range(1, Dimension - 1).Select(j => $"{quantity}, bend {j}")];

    /// <inheritdoc/>
    public void Evaluate(double x, Span<double> row)
    {
        int k = knots.Length;
        double last = knots[k - 1];
        double before = knots[k - 2];
        double scale = (last - knots[0]) * (last - knots[0]);
        row[0] = x;
        for (int j = 0; j < k - 2; j++)
        {
            double value = Cube(x - knots[j])
                - (Cube(x - before) * (last - knots[j]) / (last - before))
                + (Cube(x - last) * (before - knots[j]) / (last - before));
            row[j + 1] = value / scale;
        }
    }

    private static double Cube(double d) => d > 0 ? d * d * d : 0;
}
