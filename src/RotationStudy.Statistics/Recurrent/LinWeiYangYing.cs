using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Recurrent;

/// <summary>How do covariates multiply the mean number of events? The proportional rates and means model of Lin, Wei, Yang and Ying.</summary>
/// <remarks>
/// The mean number of events by t is m(t) exp(x'b); nothing is assumed about the dependence between a unit's events. The
/// estimating equation is that of the Andersen-Gill model with Breslow's ties, the variance the sum of squared influences of
/// units or of the clusters that units belong to.
/// <para>A terminal event, where there is one, is taken as censoring: m is then the mean while nothing terminal happens; for the
/// mean with the terminal event counted in see <see cref="MeanCumulativeFunction"/> and <see cref="GhoshLin"/>.</para>
/// <para><b>Sources</b>: Lin DY, Wei LJ, Yang I and Ying Z, J R Stat Soc B 2000;62:711-730. Lawless JF and Nadeau C, Technometrics
/// 1995;37:158-168.</para>
/// <para><b>Checked against</b>: Recurrent/bladder.</para>
/// </remarks>
public static class LinWeiYangYing
{
    /// <summary>Fits the model.</summary>
    /// <param name="events">Histories of n units.</param>
    /// <param name="x">Covariates, n units by p columns, no intercept.</param>
    /// <param name="clusters">Units that may be dependent, n; null: units are independent of one another.</param>
    /// <param name="options">Variance; null for the defaults. Ties are always Breslow's.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree with the units.</exception>
    /// <exception cref="StatisticsError">As in <see cref="CoxRegression"/>.</exception>
    public static CoxFit Fit(RecurrentEvents events, DesignMatrix x, Clusters? clusters = null, CoxOptions? options = null)
        => AndersenGill.Fit(events, x, clusters, (options ?? CoxOptions.Default) with { Ties = TiesMethod.Breslow });

    /// <summary>The mean number of events of a unit with given covariates, with a robust interval on the log scale.</summary>
    /// <param name="fit">A fit of this model.</param>
    /// <param name="covariates">One value per column.</param>
    /// <param name="level">Level of the intervals.</param>
    /// <exception cref="InvalidInputError">Another number of covariates than columns, or a level outside 0 and 1.</exception>
    public static IReadOnlyList<MeanStep> MeanEvents(CoxFit fit, IReadOnlyList<double> covariates, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, "level");
        SurvivalCurve curve = CoxPrediction.Survival(fit, covariates, options: new KaplanMeierOptions { Level = level });
        return [.. curve.Steps.Select(s => MeanStep.Of(s.Time, s.AtRisk, s.Events, -Math.Log(s.Survival), s.StandardError / s.Survival, level))];
    }
}
