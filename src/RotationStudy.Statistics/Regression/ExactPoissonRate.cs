using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Regression;

/// <summary>Exact inference for a Poisson count and for the ratio of two.</summary>
/// <remarks>
/// <para>Rate: the central interval of Garwood (1936), chi-square quantiles on 2y and 2y + 2 degrees of freedom over twice the exposure; lower bound zero where there is no
/// event. Ratio: given the total, the first count is binomial with odds (rate ratio) (exposure ratio); the interval of Clopper and Pearson (1934) on that probability.
/// Both hold at least their level, more with few events. p values are twice the smaller tail and agree with the intervals; libraries that add up all outcomes less likely
/// than the one seen give other two-sided p values.</para>
/// <para>Assumption: a constant rate and independent events. Repeated events of one person break it: use <see cref="NegativeBinomialRegression"/> then.</para>
/// <para><b>Sources</b>: Garwood F. Biometrika 1936;28:437-442; Clopper CJ, Pearson ES. Biometrika 1934;26:404-413; Przyborowski J, Wilenski H. Biometrika 1940;31:313-323.</para>
/// <para><b>Checked against</b>: Counts/exact_rates.</para>
/// </remarks>
public static class ExactPoissonRate
{
    /// <summary>A rate with its exact interval and the test that it equals a hypothesised rate.</summary>
    /// <param name="events">Number of events, zero or more.</param>
    /// <param name="exposure">Time (or number) at risk, above zero; the rate is per unit of it.</param>
    /// <param name="hypothesis">The rate under test, above zero.</param>
    /// <param name="level">Level of the interval.</param>
    /// <exception cref="InvalidInputError">A negative count, an exposure or hypothesis that is not above zero.</exception>
    public static ExactRate Rate(int events, double exposure, double hypothesis = 1, double level = ConfidenceInterval.DefaultLevel)
    {
        RequireEvents(events);
        RequirePositive(exposure, "exposure");
        RequirePositive(hypothesis, "hypothesis");
        Require.Probability(level, "level");
        double tail = (1 - level) / 2;
        double lower = events == 0 ? 0 : ChiSquared.Quantile(tail, 2.0 * events) / (2 * exposure);
        double upper = ChiSquared.UpperQuantile(tail, (2.0 * events) + 2) / (2 * exposure);
        double expected = hypothesis * exposure;
        double p = 2 * Math.Min(Poisson.AtMost(events, expected), Poisson.AtLeast(events, expected));
        return new ExactRate(events / exposure, new ConfidenceInterval(lower, upper, level), Math.Min(1, p));
    }

    /// <summary>The ratio of two rates with its exact interval and the test that it equals a hypothesised ratio.</summary>
    /// <param name="firstEvents">Events of the first group.</param>
    /// <param name="firstExposure">Exposure of the first group, above zero.</param>
    /// <param name="secondEvents">Events of the second group.</param>
    /// <param name="secondExposure">Exposure of the second group, above zero.</param>
    /// <param name="hypothesis">The ratio under test, above zero.</param>
    /// <param name="level">Level of the interval.</param>
    /// <exception cref="InvalidInputError">A negative count, an exposure or hypothesis that is not above zero.</exception>
    /// <exception cref="TooFewDataError">No event in either group: the ratio may be anything.</exception>
    public static ExactRate Ratio(
        int firstEvents, double firstExposure, int secondEvents, double secondExposure, double hypothesis = 1, double level = ConfidenceInterval.DefaultLevel)
    {
        RequireEvents(firstEvents);
        RequireEvents(secondEvents);
        RequirePositive(firstExposure, "first exposure");
        RequirePositive(secondExposure, "second exposure");
        RequirePositive(hypothesis, "hypothesis");
        Require.Probability(level, "level");
        int total = firstEvents + secondEvents;
        if (total == 0)
            throw new TooFewDataError("neither group has an event, so the ratio of the rates may be anything", "Give each rate with its own exact interval.");
        double tail = (1 - level) / 2;
        double exposures = secondExposure / firstExposure;
        double lower = firstEvents == 0 ? 0 : exposures * Odds(Beta.Quantile(tail, firstEvents, secondEvents + 1.0));
        double upper = secondEvents == 0 ? double.PositiveInfinity : exposures / Odds(Beta.Quantile(tail, secondEvents, firstEvents + 1.0));
        double probability = hypothesis * firstExposure / ((hypothesis * firstExposure) + secondExposure);
        double p = 2 * Math.Min(Binomial.AtMost(firstEvents, total, probability), Binomial.AtLeast(firstEvents, total, probability));
        double value = secondEvents == 0 ? double.PositiveInfinity : exposures * firstEvents / secondEvents;
        return new ExactRate(value, new ConfidenceInterval(lower, upper, level), Math.Min(1, p));
    }

    private static double Odds(double probability) => probability / (1 - probability);

    private static void RequireEvents(int events)
    {
        if (events < 0)
            throw new InvalidInputError($"{events} events were given", "Give a count of zero or more.", column: "events");
    }

    private static void RequirePositive(double value, string name)
    {
        if (!(value > 0 && double.IsFinite(value)))
            throw new InvalidInputError(FormattableString.Invariant($"'{name}' is {value}, not above zero"), "Leave out groups without time at risk.", column: name);
    }
}
