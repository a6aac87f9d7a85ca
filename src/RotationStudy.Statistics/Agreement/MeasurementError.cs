using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Agreement;

/// <summary>Standard error of measurement and smallest detectable change.</summary>
/// <param name="StandardErrorOfMeasurement">SD of repeated ratings of one subject, in the unit of the ratings.</param>
/// <param name="StandardErrorInterval">Its confidence interval, from the chi-square distribution of its square.</param>
/// <param name="SmallestDetectableChange">z times root two times the standard error of measurement: a change in one subject beyond error.</param>
/// <param name="ChangeInterval">Its confidence interval.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of the error variance.</param>
public sealed record MeasurementErrorEstimate(
    double StandardErrorOfMeasurement,
    ConfidenceInterval StandardErrorInterval,
    double SmallestDetectableChange,
    ConfidenceInterval ChangeInterval,
    double DegreesOfFreedom);

/// <summary>How far ratings of the same subject lie apart by error alone.</summary>
/// <remarks>
/// <para>Consistency: the residual mean square, (n-1)(k-1) degrees of freedom; differences between raters do not count.
/// Agreement: residual plus rater variance, (BetweenRaters + (n-1) Residual) / n, which is the mean square
/// within subjects, with Satterthwaite degrees of freedom; with few raters these are few and the interval is wide, as it should be.
/// A rater variance estimated below zero counts as it is, so that the estimate stays unbiased.</para>
/// <para>Intervals are those of a variance with chi-square distribution (exact for consistency under normality).</para>
/// <para><b>Sources.</b> Weir JP, J Strength Cond Res 2005;19:231-240; de Vet HCW et al., J Clin Epidemiol 2006;59:1033-1039
/// (agreement against consistency); Satterthwaite FE, Biometrics Bull 1946;2:110-114. <b>Checked against</b> Agreement/shrout_fleiss_1979 mean squares.</para>
/// </remarks>
public static class MeasurementError
{
    /// <summary>Error with systematic differences between raters left out.</summary>
    public static MeasurementErrorEstimate Consistency(RatingTable table, double level = ConfidenceInterval.DefaultLevel)
        => FromVariance(table.Residual, (table.Subjects - 1.0) * (table.Raters - 1), level);

    /// <summary>Error with systematic differences between raters included.</summary>
    public static MeasurementErrorEstimate Agreement(RatingTable table, double level = ConfidenceInterval.DefaultLevel)
    {
        double n = table.Subjects;
        double first = table.BetweenRaters / n;
        double second = (n - 1) / n * table.Residual;
        double variance = first + second;
        double spread = (first * first / (table.Raters - 1)) + (second * second / ((n - 1) * (table.Raters - 1)));
        return FromVariance(variance, spread == 0 ? 1 : variance * variance / spread, level);
    }

    /// <summary>Error from an error variance and its degrees of freedom.</summary>
    /// <exception cref="InvalidInputError">A negative variance, degrees of freedom at or below zero.</exception>
    public static MeasurementErrorEstimate FromVariance(double variance, double degreesOfFreedom, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        Require.AtLeast([variance], 0, "error variance");
        double tail = (1 - level) / 2;
        double sem = Math.Sqrt(variance);
        ConfidenceInterval interval = new(
            sem * Math.Sqrt(degreesOfFreedom / ChiSquared.UpperQuantile(tail, degreesOfFreedom)),
            sem * Math.Sqrt(degreesOfFreedom / ChiSquared.Quantile(tail, degreesOfFreedom)),
            level);
        double factor = StandardNormal.UpperQuantile(tail) * Math.Sqrt(2);
        return new MeasurementErrorEstimate(sem, interval, factor * sem, interval.Map(v => factor * v), degreesOfFreedom);
    }
}
