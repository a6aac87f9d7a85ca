using RotationStudy.Statistics.Solvers;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Recurrent;

/// <summary>A fitted model of the mean number of events where a terminal event ends a unit's risk.</summary>
public sealed record GhoshLinFit
{
    /// <summary>Log ratios of means with the robust covariance.</summary>
    public required Coefficients Coefficients { get; init; }

    /// <summary>The inverse of the observed information: far too small where units have several events.</summary>
    public required SymmetricMatrix InformationCovariance { get; init; }

    /// <summary>Number of units, n.</summary>
    public required int Units { get; init; }

    /// <summary>Number of events of all units.</summary>
    public required int Events { get; init; }

    /// <summary>Units that ended with the terminal event.</summary>
    public required int TerminalEvents { get; init; }

    /// <summary>Number of clusters; units where none were given.</summary>
    public required int Clusters { get; init; }

    /// <summary>Newton steps made.</summary>
    public required int Iterations { get; init; }

    /// <summary>The weighted likelihood at the estimate.</summary>
    internal FineGrayLikelihood? Likelihood { get; init; }

    /// <summary>Mean number of events by each event time of a unit with given covariates: m(t) exp(x'b).</summary>
    /// <exception cref="InvalidInputError">Another number of covariates than columns, NaN or infinity.</exception>
    public IReadOnlyList<(double Time, double Mean)> MeanEvents(IReadOnlyList<double> covariates)
    {
        double[] x = [.. covariates];
        Require.SameLength(x.Length, Coefficients.Values.Count, "covariates");
        Require.Finite(x, "covariates");
        double eta = -Likelihood!.Shift;
        for (int j = 0; j < x.Length; j++)
            eta += Coefficients.Values[j] * (x[j] - Likelihood.Columns.Means[j]);
        double ratio = Math.Exp(eta);
        RiskSets sets = Likelihood.Sets;
        return [.. Enumerable.Range(0, sets.Moments - 1).Reverse().Select(m => (sets.Time[m], ratio * Likelihood.CumulativeHazard[m]))];
    }
}

/// <summary>How do covariates change the mean number of events when a terminal event stops them? Ghosh and Lin's regression.</summary>
/// <remarks>
/// Model: the mean number of events by t is m(t) exp(x'b), where units past their terminal event count with no more events. A
/// covariate can lower the mean by fewer events or by an earlier terminal event; fit the terminal event beside it
/// (<see cref="RecurrentEvents.TerminalTimes"/>) to tell which. Where the terminal event is to be taken as censoring, see
/// <see cref="LinWeiYangYing"/>.
/// <para>A unit that met its terminal event at X stays in the risk set with weight G(t-)/G(X-), G the Kaplan-Meier estimate of being
/// uncensored from all units: the weighting of <see cref="FineGray"/>, which is the case of a first event that ends the follow-up. Ties
/// as in Breslow. Assumes proportional means and censoring independent of events, terminal events and covariates.</para>
/// <para>Fitted by Newton; a step is O(n p^2) after one sort. Variance: the sandwich with the part that comes from estimating G, summed
/// within clusters where given, each unit or cluster left out by one Newton step (the plain sandwich is an option).</para>
/// <para>Edges: late entry is refused, as the weights would need it modelled too; no events, columns without information,
/// infinite coefficients and one cluster are typed errors as in Cox regression.</para>
/// <para><b>Sources</b>: Ghosh D and Lin DY, Statistica Sinica 2002;12:663-688.</para>
/// <para><b>Checked against</b>: Recurrent/terminal.</para>
/// </remarks>
public static class GhoshLin
{
    private const int MaximumIterations = 30;

    /// <summary>Fits the model.</summary>
    /// <param name="events">Histories of n units from time zero.</param>
    /// <param name="x">Covariates, n units by p columns, no intercept.</param>
    /// <param name="clusters">Units that may be dependent, n; null: units are independent of one another.</param>
    /// <param name="options">Variance; null for the defaults.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree with the units, or late entry.</exception>
    /// <exception cref="TooFewDataError">No event, or a single cluster.</exception>
    /// <exception cref="RankDeficientError">A column without information of its own; it is named.</exception>
    /// <exception cref="SeparationError">A coefficient is infinite; its column is named.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not reached.</exception>
    public static GhoshLinFit Fit(RecurrentEvents events, DesignMatrix x, Clusters? clusters = null, FineGrayOptions? options = null)
    {
        Validate(events, x, clusters);
        double[] exit = [.. events.Histories.Select(h => h.End)];
        RiskSets sets = RiskSets.BuildRepeated(exit, [.. events.Histories.Select(h => h.EventTimes)]);
        FineGrayLikelihood likelihood = new(
            sets,
            new CoxColumns(sets, x, [], []),
            exit,
            unit => events.Histories[unit].Terminal,
            unit => !events.Histories[unit].Terminal);
        double[] beta = new double[x.Columns];
        likelihood.Evaluate(beta);
        CoxRegression.RequireInformation(likelihood, x.Names);
        int iterations = CoxRegression.Maximize(likelihood, likelihood.Columns, beta, MaximumIterations);
        SymmetricMatrix bread = new(x.Names, SmallCholesky.Factor(likelihood.Information, x.Columns, x.Names).Inverse());
        Clusters dependent = clusters ?? RotationStudy.Statistics.Clusters.EachRow(events.Units);
        string kind = clusters is null ? "robust by unit" : "cluster-robust";
        return new GhoshLinFit
        {
            Coefficients = FineGrayCovariance.Robust(likelihood, beta, bread, dependent, options ?? FineGrayOptions.Default, kind),
            InformationCovariance = bread,
            Units = events.Units,
            Events = events.EventCount,
            TerminalEvents = events.Histories.Count(h => h.Terminal),
            Clusters = dependent.Count,
            Iterations = iterations,
            Likelihood = likelihood,
        };
    }

    private static void Validate(RecurrentEvents events, DesignMatrix x, Clusters? clusters)
    {
        Require.SameLength(x.Rows, events.Units, "covariates");
        if (events.EventCount == 0)
            throw new TooFewDataError("no unit has an event", "A ratio of means needs events; report the follow-up without them.");
        for (int i = 0; i < events.Units; i++)
        {
            if (events.Histories[i].Entry != 0)
                throw new InvalidInputError($"unit {i} enters at {events.Histories[i].Entry}", "Means with a terminal event are fitted from time zero.", i, "entry");
        }
        ClusterRules.Require(clusters, events.Units);
    }
}
