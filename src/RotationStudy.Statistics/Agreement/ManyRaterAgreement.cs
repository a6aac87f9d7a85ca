namespace RotationStudy.Statistics.Agreement;

/// <summary>The linearised variance that coefficients for several raters share.</summary>
internal static class ManyRaterAgreement
{
    /// <summary>Estimates a coefficient whose chance agreement is given with its part from each subject.</summary>
    /// <param name="name">Which coefficient.</param>
    /// <param name="ratings">The ratings.</param>
    /// <param name="weights">Agreement weights.</param>
    /// <param name="expected">Chance agreement.</param>
    /// <param name="expectedOf">Its linear part from one subject, with mean <paramref name="expected"/>.</param>
    /// <param name="level">Level of confidence.</param>
    internal static AgreementCoefficient Estimate(string name, RatingCounts ratings, AgreementWeights weights, double expected, Func<int, double> expectedOf, double level)
    {
        Require.Probability(level, nameof(level));
        if (1 - expected < 1e-14)
            throw new TooFewDataError("all ratings are in one category, so chance agreement is complete", "Report the observed agreement.");
        int n = ratings.Subjects;
        double used = ratings.RatedTwice;
        double observed = 0;
        for (int i = 0; i < n; i++)
            observed += ratings.Raters(i) >= 2 ? ratings.Agreement(i, weights) / used : 0;
        double value = (observed - expected) / (1 - expected);
        double sum = 0;
        for (int i = 0; i < n; i++)
        {
            double own = ratings.Raters(i) >= 2 ? n / used * (ratings.Agreement(i, weights) - expected) / (1 - expected) : 0;
            double part = own - (2 * (1 - value) * (expectedOf(i) - expected) / (1 - expected));
            sum += (part - value) * (part - value);
        }
        double error = Math.Sqrt(sum / (n - 1.0) / n);
        return new AgreementCoefficient($"{name}, {weights.Name} weights", n, observed, expected, Statistics.Estimate.Wald(name, value, error, n - 1, level), double.NaN);
    }
}
