using RotationStudy.Statistics.Descriptive;
using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.GroupComparison;

/// <summary>Whether a yes-or-no property changes within pairs: McNemar's test and the odds ratio of discordant pairs.</summary>
/// <param name="Test">The exact test: binomial with probability one half on the discordant pairs; its statistic is the
/// number of pairs with the first yes and the second no.</param>
/// <param name="ChiSquare">(b - c)^2 / (b + c), one degree of freedom, no correction.</param>
/// <param name="ChiSquareWithContinuityCorrection">(|b - c| - 1)^2 / (b + c), one degree of freedom.</param>
/// <param name="OddsRatio">Conditional odds ratio b / c; infinite where c is zero.</param>
/// <param name="Interval">Exact interval of the odds ratio, from Clopper and Pearson's interval of b / (b + c).</param>
/// <remarks>
/// <para><b>Edges</b>: without a discordant pair the odds ratio has no value and the test is refused.</para>
/// <para><b>Sources</b>: McNemar Q. Psychometrika 1947;12:153-157; Edwards AL. Psychometrika 1948;13:185-187
/// (correction). <b>Checked against</b>: GroupComparison/classics.</para>
/// </remarks>
public sealed record McNemar(
    TestResult Test,
    TestResult ChiSquare,
    TestResult ChiSquareWithContinuityCorrection,
    double OddsRatio,
    ConfidenceInterval Interval)
{
    /// <summary>Tests discordant pairs.</summary>
    /// <param name="firstOnly">b, pairs whose first member alone has the property.</param>
    /// <param name="secondOnly">c, pairs whose second member alone has it.</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="InvalidInputError">A negative count.</exception>
    /// <exception cref="TooFewDataError">No discordant pair.</exception>
    public static McNemar Of(int firstOnly, int secondOnly, double level = ConfidenceInterval.DefaultLevel)
    {
        if (firstOnly < 0 || secondOnly < 0)
            throw new InvalidInputError($"{Math.Min(firstOnly, secondOnly)} pairs is no count", "Counts are zero or more.");
        int n = firstOnly + secondOnly;
        if (n == 0)
            throw new TooFewDataError("no pair is discordant", "Report that the pairs agree.");
        double p = Math.Min(1, 2 * Binomial.AtMost(Math.Min(firstOnly, secondOnly), n, 0.5));
        double distance = Math.Abs(firstOnly - secondOnly);
        ConfidenceInterval share = Proportion.ClopperPearson(firstOnly, n, level).Interval;
        return new McNemar(
            new TestResult("McNemar exact", firstOnly, double.NaN, double.PositiveInfinity, p),
            Approximate("McNemar chi-square", distance, n),
            Approximate("McNemar chi-square with continuity correction", Math.Max(0, distance - 1), n),
            (double)firstOnly / secondOnly,
            share.Map(s => s / (1 - s)));
    }

    /// <summary>Tests pairs of yes-or-no values.</summary>
    /// <exception cref="InvalidInputError">Lists of unequal length.</exception>
    /// <exception cref="TooFewDataError">No discordant pair.</exception>
    public static McNemar Of(IReadOnlyList<bool> first, IReadOnlyList<bool> second, double level = ConfidenceInterval.DefaultLevel)
    {
        if (first.Count != second.Count)
            throw new InvalidInputError($"{first.Count} values cannot be paired with {second.Count}", "Give both members of every pair.");
        int b = 0;
        int c = 0;
        for (int i = 0; i < first.Count; i++)
        {
            b += first[i] && !second[i] ? 1 : 0;
            c += !first[i] && second[i] ? 1 : 0;
        }
        return Of(b, c, level);
    }

    private static TestResult Approximate(string name, double distance, int n)
    {
        double statistic = distance * distance / n;
        return TestResult.ChiSquare(name, statistic, 1);
    }
}
