using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Agreement;

/// <summary>An interval for the agreement form ICC(2,1) that keeps its level when raters are few.</summary>
/// <remarks>
/// <para>Generalized confidence interval (Weerahandi): each expected mean square is its sum of squares over a chi-square
/// variable, theta = SS / chi-square, which makes the correlation a variable whose quantiles are the bounds. Its distribution is computed, not
/// simulated: given the rater and residual parts, the probability is a chi-square tail; the two are integrated by Gauss-Legendre
/// rules in their own shares. The same bytes every time.</para>
/// <para>The usual F-based interval (<see cref="IntraclassCorrelation"/>) replaces the sum of the error parts by one chi-square; with three
/// raters and many subjects, when the rater variance rests on two degrees of freedom and decides everything, it covers too
/// rarely: see docs/coverage/agreement.md, where both stand. Normal effects are assumed.</para>
/// <para><b>Sources.</b> Weerahandi S, J Am Stat Assoc 1993;88:899-905; Ionan AC et al., BMC Med Res Methodol 2014;14:121 (comparison of intervals).
/// <b>Checked against</b> a simulation of the definition in the tests.</para>
/// </remarks>
public static class GeneralizedIntraclassInterval
{
    private const int RaterPanels = 3;
    private const int ResidualPanels = 1;
    private const double Edge = 1e-9;

    /// <summary>The interval of ICC(2,1), one rating.</summary>
    /// <exception cref="TooFewDataError">A mean square is zero, so that the distribution has no spread.</exception>
    public static ConfidenceInterval Agreement(RatingTable table, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        if (table.BetweenSubjects == 0 || table.Residual == 0)
            throw new TooFewDataError("a mean square is zero, so the interval has no width to compute", "Report the ratings themselves.");
        double n = table.Subjects;
        double k = table.Raters;
        double[] rater = Parts(table.BetweenRaters, k - 1, RaterPanels, out double[] raterWeights);
        double[] residual = Parts(table.Residual, (n - 1) * (k - 1), ResidualPanels, out double[] residualWeights);
        double tail = (1 - level) / 2;
        // Without variance between subjects and raters the correlation is at its least; it is one at most, and that end is left out.
        double least = -1 / (k * Math.Max(0.05, 1 - (1 / k) - (1 / n)));

        return new ConfidenceInterval(Quantile(tail), Quantile(1 - tail), level);

        double Quantile(double share) => BracketedRoot.Find(r => Probability(r) - share, least, 1 - Edge);

        // P(R at most r): (1-r)/k theta_b at most r/n theta_r + ((1-r)/k - r/n + r) theta_e.
        double Probability(double r)
        {
            double own = (1 - r) / k;
            double sum = 0;
            for (int i = 0; i < rater.Length; i++)
            {
                for (int j = 0; j < residual.Length; j++)
                {
                    double limit = ((r / n * rater[i]) + ((own - (r / n) + r) * residual[j])) / own;
                    if (limit > 0)
                        sum += raterWeights[i] * residualWeights[j] * ChiSquared.UpperTail((n - 1) * table.BetweenSubjects / limit, n - 1);
                }
            }
            return sum;
        }
    }

    /// <summary>Values of SS / chi-square at Gauss-Legendre shares, with their weights.</summary>
    private static double[] Parts(double meanSquare, double df, int panels, out double[] weights)
    {
        List<double> values = [];
        List<double> found = [];
        TailQuadrature.ForEach(0, 1, panels, (share, weight) =>
        {
            values.Add(df * meanSquare / ChiSquared.Quantile(share, df));
            found.Add(weight);
        });
        weights = [.. found];
        return [.. values];
    }
}
