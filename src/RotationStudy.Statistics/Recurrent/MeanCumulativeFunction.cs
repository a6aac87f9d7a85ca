using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Recurrent;

/// <summary>One step of a mean cumulative function: what holds from its time on.</summary>
/// <param name="Time">Time of the step, in the unit of the histories.</param>
/// <param name="AtRisk">Units at risk just before it.</param>
/// <param name="Events">Events at it.</param>
/// <param name="Mean">Mean number of events per unit up to and at this time.</param>
/// <param name="StandardError">Its standard error.</param>
/// <param name="Interval">Pointwise interval, on the log scale.</param>
public readonly record struct MeanStep(double Time, int AtRisk, int Events, double Mean, double StandardError, ConfidenceInterval Interval)
{
    internal static MeanStep Of(double time, int atRisk, int events, double mean, double error, double level)
    {
        double factor = mean > 0 ? Math.Exp(StandardNormal.Quantile(0.5 + (level / 2)) * error / mean) : 1;
        return new MeanStep(time, atRisk, events, mean, error, new ConfidenceInterval(mean / factor, mean * factor, level));
    }
}

/// <summary>An estimated mean cumulative function: zero at first, rising in steps.</summary>
/// <param name="Name">Name of the group; empty for a single curve.</param>
/// <param name="Steps">Steps, earliest first.</param>
/// <param name="Units">Units behind the curve.</param>
/// <param name="LastTime">Last time at which a unit was observed.</param>
/// <param name="VarianceMethod">How the errors were reached.</param>
public sealed record MeanCumulativeCurve(string Name, IReadOnlyList<MeanStep> Steps, int Units, double LastTime, string VarianceMethod)
{
    /// <summary>The curve at a time.</summary>
    /// <exception cref="InvalidInputError">The time lies beyond the last follow-up.</exception>
    public MeanStep At(double time)
    {
        if (!(time <= LastTime))
            throw new InvalidInputError($"the curve is asked for at {time}, but follow-up ends at {LastTime}", "Ask for a time within the follow-up of the group.");
        int index = FollowUpCounts.Count(Steps, time, static (step, t) => step.Time <= t) - 1;
        return index < 0 ? MeanStep.Of(time, 0, 0, 0, 0, ConfidenceInterval.DefaultLevel) : Steps[index];
    }
}

/// <summary>How many events has a unit had on average by a given time? The mean cumulative function with a robust error.</summary>
/// <remarks>
/// Without terminal events the mean is the sum over event times of d / Y, d events among Y units at risk (Nelson; Lawless and
/// Nadeau 1995). With terminal events it is the sum of S(t-) d / Y, S the Kaplan-Meier estimate of being free of the terminal
/// event: the mean in the population as it is, where units past the terminal event have no more (Ghosh and Lin 2000).
/// <para>Variance: sum over units, or over clusters of units, of squared influences, right whatever the dependence between a unit's
/// events; found at all times in one sweep, O(n log n). Intervals are pointwise on the log scale.</para>
/// <para>Assumptions: censoring and late entry tell nothing about the events. Edges: no events give an empty curve; once no unit
/// is free of the terminal event the curve stays.</para>
/// <para><b>Sources</b>: Nelson W, J Qual Technol 1988;20:24-35. Lawless JF and Nadeau C, Technometrics 1995;37:158-168. Ghosh D and Lin DY,
/// Biometrics 2000;56:554-562. Cook RJ and Lawless JF, The Statistical Analysis of Recurrent Events, 2007.</para>
/// <para><b>Checked against</b>: Recurrent/bladder; with one event at most, against the Aalen-Johansen estimate.</para>
/// </remarks>
public static class MeanCumulativeFunction
{
    /// <summary>One curve for all units.</summary>
    /// <param name="events">Histories of n units.</param>
    /// <param name="clusters">Units that may be dependent, n; null for independent units.</param>
    /// <param name="level">Level of the intervals.</param>
    /// <exception cref="InvalidInputError">Clusters of another number of units, or a level outside 0 and 1.</exception>
    /// <exception cref="TooFewDataError">All units belong to one cluster.</exception>
    public static MeanCumulativeCurve Estimate(RecurrentEvents events, Clusters? clusters = null, double level = ConfidenceInterval.DefaultLevel)
    {
        Validate(events, clusters, level);
        return Curve(events, [.. Enumerable.Range(0, events.Units)], "", clusters, level);
    }

    /// <summary>One curve per group, in the order in which the groups first appear.</summary>
    /// <param name="events">Histories of n units.</param>
    /// <param name="group">Name of each unit's group, length n.</param>
    /// <param name="clusters">Units that may be dependent, n; null for independent units.</param>
    /// <param name="level">Level of the intervals.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree with the units, or a level outside 0 and 1.</exception>
    /// <exception cref="TooFewDataError">All units belong to one cluster.</exception>
    public static IReadOnlyList<MeanCumulativeCurve> EstimateByGroup(
        RecurrentEvents events,
        IReadOnlyList<string> group,
        Clusters? clusters = null,
        double level = ConfidenceInterval.DefaultLevel)
    {
        Validate(events, clusters, level);
        Require.SameLength(group.Count, events.Units, "group");
        Clusters groups = Clusters.From(group);
        return [.. group.Distinct().Select((name, g) => Curve(events, groups.Members(g).ToArray(), name, clusters, level))];
    }

    /// <summary>Difference of the mean numbers of events of two groups at a time: second group minus first, by first appearance.</summary>
    /// <param name="events">Histories of n units.</param>
    /// <param name="group">Name of each unit's group, exactly two names, length n.</param>
    /// <param name="time">Time, within the follow-up of both groups.</param>
    /// <param name="clusters">Units that may be dependent, also across the groups, n; null for independent units.</param>
    /// <param name="level">Level of the interval.</param>
    /// <exception cref="InvalidInputError">Not two groups, lengths that do not agree, or a time beyond the follow-up of a group.</exception>
    /// <exception cref="TooFewDataError">All units belong to one cluster.</exception>
    public static Estimate Difference(
        RecurrentEvents events,
        IReadOnlyList<string> group,
        double time,
        Clusters? clusters = null,
        double level = ConfidenceInterval.DefaultLevel)
    {
        Validate(events, clusters, level);
        Require.SameLength(group.Count, events.Units, "group");
        string[] names = [.. group.Distinct()];
        if (names.Length != 2)
            throw new InvalidInputError($"there are {names.Length} groups", "Compare two groups at a time.");
        Clusters groups = Clusters.From(group);
        Clusters dependent = clusters ?? Clusters.EachRow(events.Units);
        MeanEventSweep first = new(events, groups.Members(0).ToArray(), dependent, time);
        MeanEventSweep second = new(events, groups.Members(1).ToArray(), dependent, time);
        if (time > first.LastTime || time > second.LastTime)
            throw new InvalidInputError($"the difference is asked for at {time}, beyond the follow-up of a group", "Ask for a time within the follow-up of both groups.");
        double variance = 0;
        for (int c = 0; c < dependent.Count; c++)
        {
            double influence = second.Influence(c) - first.Influence(c);
            variance += influence * influence;
        }
        return Statistics.Estimate.Wald($"{names[1]} minus {names[0]}", second.Mean - first.Mean, Math.Sqrt(variance), level: level);
    }

    /// <summary>Tests that event rates are the same in all groups at all times: the cluster-robust log-rank test over all events.</summary>
    /// <remarks>Robust score test of the proportional rates model; a terminal event counts as censoring (Lawless and Nadeau 1995, section 4).</remarks>
    /// <param name="events">Histories of n units.</param>
    /// <param name="group">Name of each unit's group, length n.</param>
    /// <param name="clusters">Units that may be dependent, n; null for independent units.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree with the units.</exception>
    /// <exception cref="TooFewDataError">No events, fewer than two groups at risk, or a single cluster.</exception>
    public static LogRankResult Test(RecurrentEvents events, IReadOnlyList<string> group, Clusters? clusters = null)
    {
        Validate(events, clusters, ConfidenceInterval.DefaultLevel);
        Require.SameLength(group.Count, events.Units, "group");
        RiskRows rows = events.CutAtEvents(gapTime: false, lastNumber: 1);
        Clusters dependent = (clusters ?? Clusters.EachRow(events.Units)).SelectRows(rows.Unit);
        return LogRank.Test(rows.Times, [.. rows.Unit.Select(u => group[u])], dependent);
    }

    private static void Validate(RecurrentEvents events, Clusters? clusters, double level)
    {
        Require.Probability(level, "level");
        ClusterRules.Require(clusters, events.Units);
    }

    private static MeanCumulativeCurve Curve(RecurrentEvents events, int[] units, string name, Clusters? clusters, double level)
    {
        MeanEventSweep sweep = new(events, units, clusters ?? Clusters.EachRow(events.Units), double.PositiveInfinity);
        string method = clusters is null ? "robust, units" : "robust, clusters of units";
        return new MeanCumulativeCurve(
            name,
            [.. sweep.Steps.Select(s => MeanStep.Of(s.Time, s.AtRisk, s.Events, s.Mean, Math.Sqrt(s.Variance), level))],
            units.Length,
            sweep.LastTime,
            method);
    }
}
