namespace RotationStudy.Statistics.Agreement;

/// <summary>Variance of repeated readings of one subject.</summary>
/// <param name="Variance">Pooled variance within subjects, squared unit of the readings.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom that a chi-square variable of the same scatter would have; infinite where every cluster says the same.</param>
/// <param name="Subjects">Subjects with two readings or more.</param>
/// <param name="Clusters">Clusters of these.</param>
/// <param name="Readings">Readings of these.</param>
public sealed record WithinSubjectEstimate(double Variance, double DegreesOfFreedom, int Subjects, int Clusters, int Readings);

/// <summary>Error variance of a reading from subjects read twice or more, whoever read them, with its uncertainty by cluster.</summary>
/// <remarks>
/// <para>Variance = sum over subjects of squares about the subject's mean, over the sum of readings less one: the mean square
/// within of a one-way layout. Readings of a subject by different raters count their systematic differences as error. Not
/// every rater need read every subject.</para>
/// <para>Its uncertainty is that of a ratio of sums over clusters (persons), so that two sides of a person are no two
/// witnesses, and normal readings are not assumed: var(u) = G/(G-1) times the sum over clusters of (squares - u readings less
/// one)^2 over the squared denominator. It is handed on as degrees of freedom 2 u^2 / var(u) (Satterthwaite). Raters are those
/// who read: with two or three of them, others may differ by more than these degrees of freedom say.</para>
/// <para><b>Sources.</b> Searle SR, Casella G, McCulloch CE, Variance Components, 1992, sec. 3.6; Satterthwaite FE, Biometrics
/// Bull 1946;2:110-114; Cochran WG, Sampling Techniques, 3rd ed. 1977, sec. 6.3 (ratio over clusters). <b>Checked against</b>
/// cases by hand and <see cref="OneWayVariance"/>.</para>
/// </remarks>
public static class WithinSubjectVariance
{
    /// <summary>Estimates from readings in rows; subjects read once are left out.</summary>
    /// <param name="readings">Readings.</param>
    /// <param name="subjects">The subject of each.</param>
    /// <param name="clusters">The cluster of each; all readings of a subject are in one.</param>
    /// <exception cref="TooFewDataError">Fewer than two clusters with a subject read twice.</exception>
    public static WithinSubjectEstimate Estimate(IReadOnlyList<double> readings, Clusters subjects, Clusters clusters)
    {
        double[] y = [.. readings];
        Require.Finite(y, "readings");
        Require.SameLength(subjects.Rows, y.Length, "subjects");
        Require.SameLength(clusters.Rows, y.Length, "clusters");
        double[] squares = new double[clusters.Count];
        double[] free = new double[clusters.Count];
        int repeated = 0;
        int used = 0;
        for (int s = 0; s < subjects.Count; s++)
        {
            ReadOnlySpan<int> rows = subjects.Members(s);
            if (rows.Length < 2)
                continue;
            double mean = 0;
            foreach (int i in rows)
                mean += y[i] / rows.Length;
            int cluster = clusters.ClusterOfRow[rows[0]];
            foreach (int i in rows)
                squares[cluster] += (y[i] - mean) * (y[i] - mean);
            free[cluster] += rows.Length - 1;
            repeated++;
            used += rows.Length;
        }
        int witnesses = free.Count(f => f > 0);
        if (witnesses < 2)
            throw new TooFewDataError($"{witnesses} clusters hold a subject that was read twice", "Let two raters read some subjects, or one rater at two sessions.");
        double variance = squares.Sum() / free.Sum();
        double scatter = 0;
        for (int g = 0; g < squares.Length; g++)
            scatter += Math.Pow(squares[g] - (variance * free[g]), 2);
        scatter *= witnesses / (witnesses - 1.0) / (free.Sum() * free.Sum());
        return new WithinSubjectEstimate(variance, scatter > 0 ? 2 * variance * variance / scatter : double.PositiveInfinity, repeated, witnesses, used);
    }
}
