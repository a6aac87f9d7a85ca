using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Recurrent;

/// <summary>The clock of a Prentice-Williams-Peterson model.</summary>
public enum RecurrenceClock
{
    /// <summary>Time since the start: what matters is how long ago the unit came under observation.</summary>
    TotalTime,

    /// <summary>Time since the last event, the clock starting anew.</summary>
    GapTime,
}

/// <summary>How do covariates multiply the hazard of the next event, given how many came before? The conditional model of Prentice, Williams and Peterson.</summary>
/// <remarks>
/// A unit is at risk of event k only after event k - 1; each event number has its own baseline hazard (a stratum), coefficients
/// are common. The cluster-robust variance has the unit as the smallest cluster.
/// <para>Units at risk of later events are selected by having had the earlier ones: the coefficient is conditional on
/// history and is no comparison of groups as they were at the start. Later strata thin out: numbers from the last one on are put
/// together in one stratum. Gap time with late entry measures the first gap from the entry.</para>
/// <para>Fitting, ties, edges and errors thrown as in <see cref="CoxRegression"/>.</para>
/// <para><b>Sources</b>: Prentice RL, Williams BJ and Peterson AV, Biometrika 1981;68:373-379.</para>
/// <para><b>Checked against</b>: Recurrent/bladder.</para>
/// </remarks>
public static class PrenticeWilliamsPeterson
{
    /// <summary>Fits the model.</summary>
    /// <param name="events">Histories of n units.</param>
    /// <param name="x">Covariates, n units by p columns, no intercept.</param>
    /// <param name="clock">Time since the start or since the last event.</param>
    /// <param name="clusters">Units that may be dependent, n; null: units are independent of one another.</param>
    /// <param name="lastStratum">Event number from which on all share a stratum, 1 or more.</param>
    /// <param name="options">Ties and variance; null for the defaults.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree with the units, or a last stratum below 1.</exception>
    /// <exception cref="StatisticsError">As in <see cref="CoxRegression"/>.</exception>
    public static CoxFit Fit(
        RecurrentEvents events,
        DesignMatrix x,
        RecurrenceClock clock,
        Clusters? clusters = null,
        int lastStratum = int.MaxValue,
        CoxOptions? options = null)
    {
        if (lastStratum < 1)
            throw new InvalidInputError($"the last stratum is {lastStratum}", "Number events from 1.");
        return events.CutAtEvents(clock == RecurrenceClock.GapTime, lastStratum).Fit(events, x, clusters, byNumber: true, options);
    }
}
