using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Survival;

/// <summary>The chi-square test that observed and expected events agree in all groups, from their differences and covariance.</summary>
internal static class GroupDifferences
{
    /// <summary>U' V^-1 U over the groups that were at risk at events, the last one left out since differences sum to zero.</summary>
    /// <exception cref="TooFewDataError">Fewer than two such groups, or a covariance without full rank.</exception>
    internal static TestResult ChiSquare(string test, double[] difference, double[] expected, double[] covariance, string[] names)
    {
        List<int> kept = [];
        for (int g = 0; g < names.Length; g++)
        {
            if (expected[g] > 0)
                kept.Add(g);
        }
        if (kept.Count < 2)
            throw new TooFewDataError("fewer than two groups were at risk when events happened", "Compare groups that were observed over the same time.");
        int df = kept.Count - 1;
        double[] u = new double[df];
        double[] v = new double[df * df];
        for (int i = 0; i < df; i++)
        {
            u[i] = difference[kept[i]];
            for (int j = 0; j < df; j++)
                v[(i * df) + j] = covariance[(kept[i] * names.Length) + kept[j]];
        }
        try
        {
            double statistic = CrossProduct.Dot(u, SmallCholesky.Factor(v, df, [.. kept.Select(g => names[g])]).Solve(u));
            return new TestResult(test, statistic, df, double.PositiveInfinity, ChiSquared.UpperTail(statistic, df));
        }
        catch (RankDeficientError)
        {
            throw new TooFewDataError("the groups were never mixed when events happened, or too few clusters carry information", "Compare groups that were at risk together; use more clusters than groups.");
        }
    }

    /// <summary>Sum of u u' over clusters whose influences u stand one after the other, k values each.</summary>
    internal static double[] SumOfSquares(double[] influences, int k)
    {
        double[] sum = new double[k * k];
        for (int at = 0; at < influences.Length; at += k)
        {
            for (int g = 0; g < k; g++)
            {
                for (int h = 0; h < k; h++)
                    sum[(g * k) + h] += influences[at + g] * influences[at + h];
            }
        }
        return sum;
    }
}
