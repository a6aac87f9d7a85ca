namespace RotationStudy.Statistics.Agreement;

/// <summary>Fleiss' kappa for several raters per subject, who need not be the same raters; gaps are allowed.</summary>
/// <remarks>
/// <para>Chance agreement is the weighted sum of products of the shares of categories. The standard error is the
/// linearised one for kappa as it is, subjects a random sample, with a t interval on n - 1 (Gwet 2014); Fleiss' own (1971) holds
/// only under no agreement and is not given.</para>
/// <para><b>Sources.</b> Fleiss JL, Psychol Bull 1971;76:378-382; Gwet KL, Handbook of Inter-Rater Reliability, 4th ed., 2014, ch. 5.
/// <b>Checked against</b> Agreement/methods.</para>
/// </remarks>
public static class FleissKappa
{
    /// <summary>Estimates the coefficient.</summary>
    /// <exception cref="TooFewDataError">Chance agreement is complete.</exception>
    public static AgreementCoefficient Estimate(RatingCounts ratings, AgreementWeights weights, double level = ConfidenceInterval.DefaultLevel)
    {
        int k = ratings.Categories;
        Require.SameLength(weights.Categories, k, "weights");
        double[] share = ratings.Shares();
        double[] near = new double[k];
        double expected = 0;
        for (int a = 0; a < k; a++)
        {
            for (int b = 0; b < k; b++)
                near[a] += weights[a, b] * share[b];
            expected += share[a] * near[a];
        }
        return ManyRaterAgreement.Estimate("Fleiss kappa", ratings, weights, expected, Part, level);

        double Part(int subject)
        {
            double sum = 0;
            for (int c = 0; c < k; c++)
                sum += ratings[subject, c] / ratings.Raters(subject) * near[c];
            return sum;
        }
    }
}
