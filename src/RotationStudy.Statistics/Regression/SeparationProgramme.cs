using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>The linear programme behind <see cref="SeparationDetection"/>, solved through its dual by the revised simplex method.</summary>
/// <remarks>
/// Primal, over b with |b_j| at most 1: the largest mean of s_i x_i'b over the rows with a sign, subject to s_i x_i'b >= 0 there
/// and x_i'b = 0 in held rows. Dual: the least sum of u + v with u - v - sum of l_i s_i x_i = c, where u, v, l >= 0 (l free in held rows), c the mean of
/// s_i x_i. The start u - v = c is feasible; the multipliers of the dual's p equations are b, so that a row which b violates is the one to enter.
/// </remarks>
internal sealed class SeparationProgramme
{
    private const double Tolerance = 1e-9;
    private const double Margin = 1e-7;
    private const int MaximumPivotsPerColumn = 200;

    private readonly DesignMatrix x;
    private readonly double[] signs;
    private readonly int p;
    private readonly double[] scale;
    private readonly double[] inverse;
    private readonly double[] level;
    private readonly double[] cost;
    private readonly double[] direction;
    private readonly double[] margins;
    private readonly double[] entering;
    private readonly double[] moved;
    private double enteringCost;

    internal SeparationProgramme(DesignMatrix x, double[] signs)
    {
        this.x = x;
        this.signs = signs;
        p = x.Columns;
        scale = new double[p];
        inverse = new double[p * p];
        level = new double[p];
        cost = new double[p];
        direction = new double[p];
        margins = new double[x.Rows];
        entering = new double[p];
        moved = new double[p];
    }

    /// <summary>The columns that take part in a direction of separation; empty where there is none.</summary>
    /// <exception cref="NotConvergedError">The simplex method did not end.</exception>
    internal IReadOnlyList<string> SeparatedColumns()
    {
        Start();
        int degenerate = 0;
        for (int pivot = 0; pivot < MaximumPivotsPerColumn * (p + 5); pivot++)
        {
            Multipliers();
            // Bland's rule, first come first served, once steps of length zero threaten to go round in a circle.
            if (!Enter(firstFound: degenerate > 2 * p))
                return Named();
            degenerate = Pivot() ? 0 : degenerate + 1;
        }
        throw new NotConvergedError(
            "the linear programme that looks for separation did not end",
            "Look for columns on very different scales, or use the penalised likelihood of Firth (1993).",
            MaximumPivotsPerColumn * (p + 5));
    }

    private void Start()
    {
        int signed = 0;
        foreach (double s in signs)
            signed += s is 1 or -1 ? 1 : 0;
        for (int j = 0; j < p; j++)
        {
            ReadOnlySpan<double> column = x.Column(j);
            double largest = 0;
            double sum = 0;
            for (int i = 0; i < column.Length; i++)
            {
                if (double.IsNaN(signs[i]))
                    continue;
                largest = Math.Max(largest, Math.Abs(column[i]));
                sum += signs[i] * column[i];
            }
            scale[j] = largest == 0 ? 1 : 1 / largest;
            double c = scale[j] * sum / Math.Max(1, signed);
            inverse[(j * p) + j] = c < 0 ? -1 : 1;
            level[j] = Math.Abs(c);
            cost[j] = 1;
        }
    }

    // b' = cost' B^-1, and what it gives each row.
    private void Multipliers()
    {
        for (int j = 0; j < p; j++)
        {
            double sum = 0;
            for (int k = 0; k < p; k++)
                sum += cost[k] * inverse[(k * p) + j];
            direction[j] = sum;
            entering[j] = sum * scale[j];
        }
        CrossProduct.LinearPredictor(x, entering, [], margins);
    }

    // The column of the dual with the most negative reduced cost goes into 'entering'.
    private bool Enter(bool firstFound)
    {
        double worst = -Tolerance;
        int row = -1;
        double sign = 0;
        for (int i = 0; i < margins.Length; i++)
        {
            double s = signs[i];
            if (double.IsNaN(s))
                continue;
            if (s == 0)
                s = margins[i] > 0 ? -1 : 1;
            if (s * margins[i] < worst)
            {
                worst = s * margins[i];
                row = i;
                sign = s;
                if (firstFound)
                    break;
            }
        }
        enteringCost = 0;
        if (row >= 0)
        {
            for (int j = 0; j < p; j++)
                entering[j] = -sign * x[row, j] * scale[j];
            if (firstFound)
                return true;
        }
        int bound = -1;
        for (int j = 0; j < p; j++)
        {
            if (1 - Math.Abs(direction[j]) < worst)
            {
                worst = 1 - Math.Abs(direction[j]);
                bound = j;
            }
        }
        if (bound >= 0)
        {
            Array.Clear(entering);
            entering[bound] = direction[bound] > 0 ? 1 : -1;
            enteringCost = 1;
        }
        return row >= 0 || bound >= 0;
    }

    // Returns whether the objective could fall.
    private bool Pivot()
    {
        int leaving = -1;
        double shortest = double.PositiveInfinity;
        for (int k = 0; k < p; k++)
        {
            moved[k] = CrossProduct.Dot(inverse.AsSpan(k * p, p), entering);
            if (moved[k] <= Tolerance)
                continue;
            double ratio = Math.Max(0, level[k]) / moved[k];
            if (ratio < shortest - 1e-15 || (ratio <= shortest + 1e-15 && moved[k] > moved[leaving]))
            {
                shortest = ratio;
                leaving = k;
            }
        }
        // The dual is bounded below by zero, so a column that nothing stops cannot occur but by rounding.
        if (leaving < 0)
            return false;
        double pivot = moved[leaving];
        for (int j = 0; j < p; j++)
            inverse[(leaving * p) + j] /= pivot;
        level[leaving] = shortest;
        cost[leaving] = enteringCost;
        for (int k = 0; k < p; k++)
        {
            if (k == leaving)
                continue;
            level[k] -= moved[k] * shortest;
            for (int j = 0; j < p; j++)
                inverse[(k * p) + j] -= moved[k] * inverse[(leaving * p) + j];
        }
        return shortest > 0;
    }

    private List<string> Named()
    {
        double widest = 0;
        for (int i = 0; i < margins.Length; i++)
        {
            if (signs[i] is 1 or -1)
                widest = Math.Max(widest, signs[i] * margins[i]);
        }
        List<string> names = [];
        for (int j = 0; widest > Margin && j < p; j++)
        {
            if (Math.Abs(direction[j]) > Margin)
                names.Add(x.Names[j]);
        }
        return names;
    }
}
