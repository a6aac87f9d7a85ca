using MathNet.Numerics.LinearAlgebra.Double;
using MathNet.Numerics.LinearAlgebra.Factorization;
using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Mixed;

/// <summary>F tests of several contrasts of the fixed effects of a linear mixed model.</summary>
internal static class FixedEffectTest
{
    internal static TestResult Run(LinearMixedModelFit fit, string name, double[][] contrasts)
    {
        int l = contrasts.Length;
        double[] values = new double[l];
        double[] covariance = new double[l * l];
        for (int i = 0; i < l; i++)
        {
            Require.SameLength(contrasts[i].Length, fit.Coefficients.Values.Count, "contrast");
            for (int j = 0; j < contrasts[i].Length; j++)
                values[i] += contrasts[i][j] * fit.Coefficients.Values[j];
            for (int j = 0; j < l; j++)
                covariance[(i * l) + j] = fit.Coefficients.Covariance.Quadratic(contrasts[i], contrasts[j]);
        }
        string[] names = [.. Enumerable.Range(1, l).Select(k => FormattableString.Invariant($"contrast {k}"))];
        double[] solved = SmallCholesky.Factor(covariance, l, names).Solve(values);
        double f = 0;
        for (int i = 0; i < l; i++)
            f += values[i] * solved[i] / l;
        (double scale, double df) = fit.JointMoments(contrasts) ?? (1, SatterthwaiteDenominator(fit, contrasts, covariance));
        return new TestResult($"F test of {name}", scale * f, l, df, FDistribution.UpperTail(scale * f, l, df));
    }

    // The contrasts are turned to be uncorrelated; each has its own degrees of freedom v, and F has the expectation of a sum
    // of squared t: E = sum v / (v - 2), denominator 2E / (E - l).
    private static double SatterthwaiteDenominator(LinearMixedModelFit fit, double[][] contrasts, double[] covariance)
    {
        int l = contrasts.Length;
        Evd<double> eigen = DenseMatrix.Create(l, l, (i, j) => covariance[(i * l) + j]).Evd(MathNet.Numerics.LinearAlgebra.Symmetricity.Symmetric);
        double[] df = new double[l];
        for (int k = 0; k < l; k++)
        {
            double[] turned = new double[contrasts[0].Length];
            for (int i = 0; i < l; i++)
            {
                for (int j = 0; j < turned.Length; j++)
                    turned[j] += eigen.EigenVectors[i, k] * contrasts[i][j];
            }
            df[k] = fit.DegreesOfFreedom(turned);
        }
        double least = df.Min();
        if (df.Max() - least <= 1e-6 * least || double.IsPositiveInfinity(least))
            return least;
        double expectation = df.Where(v => v > 2).Sum(v => double.IsPositiveInfinity(v) ? 1 : v / (v - 2));
        return least > 2 && expectation > l ? 2 * expectation / (expectation - l) : 2;
    }
}
