namespace RotationStudy.Statistics.Distributions;

/// <summary>The integral over s from 0 to infinity of exp(e(s)), where e is concave, starts at 0 and never rises.</summary>
/// <remarks>
/// On the log (gamma) or logit (beta) scale every tail that starts beyond the mean has this form, however large the
/// parameters are; a continued fraction would need as many steps as the square root of the parameter. The range is cut
/// where the integrand falls below exp(-40) and is covered by Gauss-Legendre panels; the rest is below 1e-17 of the whole.
/// </remarks>
internal static class TailQuadrature
{
    private const int Order = 16;
    private const int Panels = 8;
    private const double Cut = -40;

    private static readonly (double[] Nodes, double[] Weights) Rule = GaussLegendre(Order);

    /// <summary>The integral; <paramref name="scale"/> is a guess of the width, which need not be good.</summary>
    internal static double Integrate<TExponent>(TExponent exponent, double scale)
        where TExponent : struct, ITailExponent
    {
        double end = Range(exponent, scale);
        double half = end / (2 * Panels);
        double sum = 0;
        for (int panel = 0; panel < Panels; panel++)
        {
            double middle = ((2 * panel) + 1) * half;
            for (int i = 0; i < Order; i++)
                sum += Rule.Weights[i] * Math.Exp(exponent.At(middle + (half * Rule.Nodes[i])));
        }
        return sum * half;
    }

    /// <summary>The integral of any smooth function over a finite range by as many panels of the same rule.</summary>
    internal static double Composite(Func<double, double> function, double low, double high, int panels)
    {
        double sum = 0;
        ForEach(low, high, panels, (x, weight) => sum += weight * function(x));
        return sum;
    }

    /// <summary>Goes through the nodes of the composite rule with their weights, in ascending panels.</summary>
    internal static void ForEach(double low, double high, int panels, Action<double, double> use)
    {
        double half = (high - low) / (2 * panels);
        for (int panel = 0; panel < panels; panel++)
        {
            double middle = low + (((2 * panel) + 1) * half);
            for (int i = 0; i < Order; i++)
                use(middle + (half * Rule.Nodes[i]), half * Rule.Weights[i]);
        }
    }

    private static double Range<TExponent>(TExponent exponent, double scale)
        where TExponent : struct, ITailExponent
    {
        double below = 0;
        double above = scale;
        while (exponent.At(above) > Cut)
        {
            below = above;
            above *= 2;
        }
        for (int i = 0; i < 6; i++)
        {
            double middle = 0.5 * (below + above);
            if (exponent.At(middle) > Cut)
                below = middle;
            else
                above = middle;
        }
        return above;
    }

    private static (double[] Nodes, double[] Weights) GaussLegendre(int order)
    {
        double[] nodes = new double[order];
        double[] weights = new double[order];
        for (int i = 0; i < order; i++)
        {
            double x = Math.Cos(Math.PI * (i + 0.75) / (order + 0.5));
            double derivative = 0;
            for (int iteration = 0; iteration < 20; iteration++)
            {
                (double value, derivative) = Legendre(order, x);
                double step = value / derivative;
                x -= step;
                if (Math.Abs(step) < 1e-16)
                    break;
            }
            nodes[i] = x;
            weights[i] = 2 / ((1 - (x * x)) * derivative * derivative);
        }
        return (nodes, weights);
    }

    private static (double Value, double Derivative) Legendre(int order, double x)
    {
        double previous = 1;
        double current = x;
        for (int k = 2; k <= order; k++)
            (previous, current) = (current, ((((2 * k) - 1) * x * current) - ((k - 1) * previous)) / k);
        return (current, order * ((x * current) - previous) / ((x * x) - 1));
    }
}

/// <summary>The exponent e(s) of a tail integral, relative to its start.</summary>
internal interface ITailExponent
{
    /// <summary>e(s), zero at s = 0, concave, not rising.</summary>
    double At(double s);
}
