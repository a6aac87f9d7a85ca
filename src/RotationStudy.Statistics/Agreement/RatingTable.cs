namespace RotationStudy.Statistics.Agreement;

/// <summary>The two-way analysis of variance of n subjects each rated once by the same k raters.</summary>
/// <remarks>
/// <para>Model: rating = mean + subject + rater + residual. Mean squares: between subjects (n-1 df), between raters (k-1),
/// residual ((n-1)(k-1)), and within subjects, which pools raters and residual (n(k-1)).</para>
/// <para><b>Sources.</b> Shrout PE, Fleiss JL, Psychol Bull 1979;86:420-428, Table 1. <b>Checked against</b> Agreement/shrout_fleiss_1979.</para>
/// </remarks>
public sealed class RatingTable
{
    private RatingTable(int subjects, int raters, double between, double rater, double residual)
    {
        Subjects = subjects;
        Raters = raters;
        BetweenSubjects = between;
        BetweenRaters = rater;
        Residual = residual;
    }

    /// <summary>Number of subjects, n.</summary>
    public int Subjects { get; }

    /// <summary>Number of raters, k.</summary>
    public int Raters { get; }

    /// <summary>Mean square between subjects.</summary>
    public double BetweenSubjects { get; }

    /// <summary>Mean square between raters.</summary>
    public double BetweenRaters { get; }

    /// <summary>Residual mean square.</summary>
    public double Residual { get; }

    /// <summary>Mean square within subjects.</summary>
    public double WithinSubjects => (BetweenRaters + ((Subjects - 1) * Residual)) / Subjects;

    /// <summary>Analyses complete ratings.</summary>
    /// <param name="ratings">One list per rater, all of length n, subjects in the same order.</param>
    /// <exception cref="TooFewDataError">Fewer than two subjects or raters.</exception>
    /// <exception cref="InvalidInputError">Unequal lengths, NaN, infinity.</exception>
    public static RatingTable From(params IReadOnlyList<IReadOnlyList<double>> ratings)
    {
        int k = ratings.Count;
        if (k < 2)
            throw new TooFewDataError($"{k} rater gives no agreement", "Give the ratings of two raters or occasions.");
        int n = ratings[0].Count;
        if (n < 2)
            throw new TooFewDataError($"{n} subject gives no variance between subjects", "Give ratings of two subjects at the very least.");
        double[][] columns = new double[k][];
        for (int j = 0; j < k; j++)
        {
            columns[j] = [.. ratings[j]];
            Require.SameLength(columns[j].Length, n, $"rater {j}");
            Require.Finite(columns[j], $"rater {j}");
        }
        return Analyse(columns, n, k);
    }

    private static RatingTable Analyse(double[][] columns, int n, int k)
    {
        double[] subject = new double[n];
        double[] rater = new double[k];
        for (int j = 0; j < k; j++)
        {
            for (int i = 0; i < n; i++)
            {
                subject[i] += columns[j][i] / k;
                rater[j] += columns[j][i] / n;
            }
        }
        double grand = 0;
        foreach (double r in rater)
            grand += r / k;
        double between = 0;
        double residual = 0;
        foreach (double s in subject)
            between += k * (s - grand) * (s - grand);
        double raters = 0;
        foreach (double r in rater)
            raters += n * (r - grand) * (r - grand);
        for (int j = 0; j < k; j++)
        {
            for (int i = 0; i < n; i++)
            {
                double left = columns[j][i] - subject[i] - rater[j] + grand;
                residual += left * left;
            }
        }
        // Below this share of the squared size of the data, a sum of squares is rounding of a perfect pattern.
        double rounding = 1e-26 * n * k * Math.Max(grand * grand, between / (n * k));
        return new RatingTable(n, k, Zero(between, rounding) / (n - 1), Zero(raters, rounding) / (k - 1), Zero(residual, rounding) / ((n - 1.0) * (k - 1)));
    }

    private static double Zero(double sum, double rounding) => sum <= rounding ? 0 : sum;
}
