using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.GroupComparison;

/// <summary>Fisher's exact test of a 2 by 2 table with the conditional odds ratio.</summary>
/// <param name="PValue">Two-sided p value: the probability, margins given, of all tables no more probable than the one
/// seen.</param>
/// <param name="OddsRatio">Conditional maximum likelihood estimate, not ad/bc; 0 or infinite at the edge of what the
/// margins allow.</param>
/// <param name="Interval">Exact interval: the odds ratios whose one-sided tests keep half of one minus the level in
/// each tail.</param>
/// <param name="Greater">Probability of a first count as large or larger.</param>
/// <param name="Less">Probability of a first count as small or smaller.</param>
/// <remarks>
/// <para><b>Model</b>: the first count x given all margins is noncentral hypergeometric, P(x; w) proportional to C(m,
/// x) C(n, k - x) w^x with odds ratio w.</para>
/// <para><b>Two-sided</b> by point probability; probabilities that agree to one part in 10^7 count as equal. The
/// interval inverts one-sided tests, so p value and interval can disagree near the edge of significance; libraries that
/// double the smaller tail give another p value.</para>
/// <para><b>Edges</b>: a margin of zero leaves one possible table: refused.</para>
/// <para><b>Sources</b>: Fisher RA. The Design of Experiments. 1935; Cornfield J. Proc Third Berkeley Symp
/// 1956;4:135-148. <b>Checked against</b>: GroupComparison/classics.</para>
/// </remarks>
public sealed record FisherExact(double PValue, double OddsRatio, ConfidenceInterval Interval, double Greater, double Less)
{
    /// <summary>Probabilities within this share of one another count as equal.</summary>
    internal const double SameProbability = 1e-7;

    /// <summary>Tests the table with rows (a, b) and (c, d).</summary>
    /// <exception cref="InvalidInputError">A negative count.</exception>
    /// <exception cref="TooFewDataError">A margin of zero.</exception>
    public static FisherExact Of(int a, int b, int c, int d, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, "level");
        ContingencyTable table = new ContingencyTable(2, 2, a, b, c, d).WithoutEmpty();
        int marked = table.ColumnTotals[0];
        int unmarked = table.ColumnTotals[1];
        int sample = table.RowTotals[0];
        int lowest = Math.Max(0, sample - unmarked);
        int highest = Math.Min(marked, sample);
        double[] log = new double[highest - lowest + 1];
        for (int x = lowest; x <= highest; x++)
            log[x - lowest] = Hypergeometric.LogProbability(x, marked, unmarked, sample);
        int at = a - lowest;
        double tail = (1 - level) / 2;
        double lower = at == 0 ? 0 : Math.Exp(Root(t => UpperTail(log, at, t) - tail));
        double upper = at == log.Length - 1 ? double.PositiveInfinity : Math.Exp(Root(t => tail - LowerTail(log, at, t)));
        double odds = at == 0 ? 0 : at == log.Length - 1 ? double.PositiveInfinity : Math.Exp(Root(t => Mean(log, t) - at));
        ConfidenceInterval interval = new(lower, upper, level);
        return new FisherExact(TwoSided(log, at), odds, interval, UpperTail(log, at, 0), LowerTail(log, at, 0));
    }

    private static double TwoSided(double[] log, int at)
    {
        double limit = log[at] + SameProbability;
        double p = 0;
        foreach (double l in log)
            p += l <= limit ? Math.Exp(l) : 0;
        return Math.Min(1, p);
    }

    private static double UpperTail(double[] log, int at, double logOdds) => Share(log, logOdds, i => i >= at ? 1 : 0);

    private static double LowerTail(double[] log, int at, double logOdds) => Share(log, logOdds, i => i <= at ? 1 : 0);

    private static double Mean(double[] log, double logOdds) => Share(log, logOdds, i => i);

    // The mean of f over the noncentral distribution, scaled by its largest term so that nothing overflows.
    private static double Share(double[] log, double logOdds, Func<int, double> f)
    {
        double largest = double.NegativeInfinity;
        for (int i = 0; i < log.Length; i++)
            largest = Math.Max(largest, log[i] + (i * logOdds));
        double sum = 0;
        double all = 0;
        for (int i = 0; i < log.Length; i++)
        {
            double term = Math.Exp(log[i] + (i * logOdds) - largest);
            all += term;
            sum += term * f(i);
        }
        return sum / all;
    }

    // Bisection for an increasing function of the log odds ratio, down to neighbouring numbers.
    private static double Root(Func<double, double> increasing)
    {
        double low = -1;
        double high = 1;
        while (increasing(low) > 0)
            low *= 2;
        while (increasing(high) < 0)
            high *= 2;
        while (true)
        {
            double middle = low + ((high - low) / 2);
            if (middle <= low || middle >= high)
                return middle;
            if (increasing(middle) < 0)
                low = middle;
            else
                high = middle;
        }
    }
}
