namespace RotationStudy.Statistics.Agreement;

/// <summary>Gwet's agreement coefficient: AC1 without weights, AC2 with weights, for two or more raters with gaps.</summary>
/// <remarks>
/// <para>Observed agreement is the mean over subjects rated twice of the weighted agreement among pairs of raters; chance agreement
/// is T / (k(k-1)) times the sum of pi (1 - pi), pi the share of a category and T the sum of all weights. It stays sensible where
/// one category is rare and kappa falls though raters agree.</para>
/// <para>The standard error treats subjects as a random sample and raters as fixed, with a t interval on n - 1. Gwet's published formula is kept
/// where some subjects are rated once: it lets their number vary too and is wider than the plain linearisation. For dependent subjects take the person bootstrap.</para>
/// <para><b>Sources.</b> Gwet KL, Br J Math Stat Psychol 2008;61:29-48; Handbook of Inter-Rater Reliability, 4th ed., 2014, ch. 4
/// and 5. <b>Checked against</b> Agreement/methods, a case by hand.</para>
/// </remarks>
public static class GwetAgreement
{
    /// <summary>Estimates the coefficient.</summary>
    /// <exception cref="TooFewDataError">Chance agreement is complete.</exception>
    public static AgreementCoefficient Estimate(RatingCounts ratings, AgreementWeights weights, double level = ConfidenceInterval.DefaultLevel)
    {
        int k = ratings.Categories;
        Require.SameLength(weights.Categories, k, "weights");
        double[] share = ratings.Shares();
        double total = 0;
        double expected = 0;
        for (int a = 0; a < k; a++)
        {
            expected += share[a] * (1 - share[a]);
            for (int b = 0; b < k; b++)
                total += weights[a, b];
        }
        double factor = total / (k * (k - 1.0));
        return ManyRaterAgreement.Estimate(weights.Name == "identity" ? "AC1" : "AC2", ratings, weights, factor * expected, Part, level);

        double Part(int subject)
        {
            double sum = 0;
            for (int c = 0; c < k; c++)
                sum += ratings[subject, c] / ratings.Raters(subject) * (1 - share[c]);
            return factor * sum;
        }
    }
}
