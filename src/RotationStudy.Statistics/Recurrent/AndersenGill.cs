using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Recurrent;

/// <summary>How do covariates multiply the rate of events, all events of a unit alike? The Andersen-Gill model.</summary>
/// <remarks>
/// Every unit is at risk from entry to end, cut at its events; the intensity of any event at t is h(t) exp(x'b), whatever
/// the number of events before. A coefficient is the log ratio of event rates.
/// <para>Assumption of the model: given x, past events do not change the rate of further ones. The cluster-robust variance, always
/// used here with the unit as the smallest cluster, keeps intervals right for the average rate ratio when they do; then
/// read it as the proportional-rates model, <see cref="LinWeiYangYing"/>. A terminal event ends the risk like censoring: the
/// rate ratio is among units still at risk; fit <see cref="RecurrentEvents.TerminalTimes"/> beside it.</para>
/// <para>Fitting, ties, edges and errors thrown as in <see cref="CoxRegression"/>.</para>
/// <para><b>Sources</b>: Andersen PK and Gill RD, Ann Stat 1982;10:1100-1120. Lin DY and Wei LJ, J Am Stat Assoc 1989;84:1074-1078.</para>
/// <para><b>Checked against</b>: Recurrent/bladder, Peers/tight_300.</para>
/// </remarks>
public static class AndersenGill
{
    /// <summary>Fits the model.</summary>
    /// <param name="events">Histories of n units.</param>
    /// <param name="x">Covariates, n units by p columns, no intercept.</param>
    /// <param name="clusters">Units that may be dependent, n; null: units are independent of one another.</param>
    /// <param name="options">Ties and variance; null for the defaults.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree with the units.</exception>
    /// <exception cref="StatisticsError">As in <see cref="CoxRegression"/>.</exception>
    public static CoxFit Fit(RecurrentEvents events, DesignMatrix x, Clusters? clusters = null, CoxOptions? options = null)
        => events.CutAtEvents(gapTime: false, lastNumber: 1).Fit(events, x, clusters, byNumber: false, options);
}
