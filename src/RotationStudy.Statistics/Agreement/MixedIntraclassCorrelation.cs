using RotationStudy.Statistics.Mixed;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Agreement;

/// <summary>Intraclass correlations of one rating from a mixed model.</summary>
/// <param name="Subjects">Number of subjects.</param>
/// <param name="Raters">Number of raters.</param>
/// <param name="Ratings">Number of ratings.</param>
/// <param name="SubjectVariance">Variance between subjects.</param>
/// <param name="RaterVariance">Variance between raters.</param>
/// <param name="ResidualVariance">Residual variance.</param>
/// <param name="Agreement">Subject over all three: ICC(2,1), ICC(A,1).</param>
/// <param name="Consistency">Subject over subject and residual: ICC(3,1), ICC(C,1).</param>
/// <param name="BoundaryTerms">Variances estimated as zero.</param>
public sealed record MixedIntraclassEstimate(
    int Subjects,
    int Raters,
    int Ratings,
    double SubjectVariance,
    double RaterVariance,
    double ResidualVariance,
    double Agreement,
    double Consistency,
    IReadOnlyList<string> BoundaryTerms);

/// <summary>Agreement and consistency when not every rater rated every subject, or some rated twice.</summary>
/// <remarks>
/// <para>Model: rating = mean + subject + rater + residual, all normal, fitted by restricted maximum likelihood
/// (<see cref="LinearMixedModel"/>). With complete ratings and no variance at zero the values are those of <see cref="IntraclassCorrelation"/>. Ratings may be missing
/// at random given the others.</para>
/// <para>Intervals come from the bootstrap of whole subjects: raters are kept, so the interval speaks of these raters; with few of
/// them the F-based interval of complete data, which treats raters as a sample, is wider, and rightly so.</para>
/// <para><b>Sources.</b> McGraw KO, Wong SP, Psychol Methods 1996;1:30-46; Searle SR, Casella G, McCulloch CE, Variance Components, 1992, ch. 6.
/// <b>Checked against</b> Agreement/shrout_fleiss_1979 (complete ratings).</para>
/// </remarks>
public static class MixedIntraclassCorrelation
{
    private const string Subject = "subject";
    private const string Rater = "rater";

    private static readonly string[] Names = ["agreement", "consistency"];

    /// <summary>Fits the model to ratings in rows.</summary>
    /// <param name="ratings">Ratings, one per row.</param>
    /// <param name="subjects">The subject of each row.</param>
    /// <param name="raters">The rater of each row.</param>
    /// <exception cref="TooFewDataError">One subject or rater, or too few ratings.</exception>
    public static MixedIntraclassEstimate Estimate(IReadOnlyList<double> ratings, Clusters subjects, Clusters raters)
    {
        LinearMixedModelFit fit = LinearMixedModel.Fit(
            DesignMatrix.InterceptOnly(ratings.Count),
            ratings,
            [new RandomTerm(Subject, subjects), new RandomTerm(Rater, raters)]);
        double subject = fit.Variance(Subject);
        return new MixedIntraclassEstimate(
            subjects.Count,
            raters.Count,
            ratings.Count,
            subject,
            fit.Variance(Rater),
            fit.ResidualVariance,
            fit.IntraclassCorrelation(Subject),
            UnbalancedIntraclassCorrelation.FromComponents(subject, fit.ResidualVariance),
            fit.BoundaryTerms);
    }

    /// <summary>Bootstrap of whole subjects; component 0 is agreement, component 1 consistency.</summary>
    public static BootstrapResult Bootstrap(IReadOnlyList<double> ratings, Clusters subjects, Clusters raters, BootstrapOptions options)
        => PersonBootstrap.Run(Names, subjects, resample =>
        {
            double[] selected = new double[resample.Rows.Length];
            for (int i = 0; i < selected.Length; i++)
                selected[i] = ratings[resample.Rows[i]];
            MixedIntraclassEstimate found = Estimate(selected, resample.Clusters, raters.SelectRows(resample.Rows));
            return [found.Agreement, found.Consistency];
        }, options);
}
