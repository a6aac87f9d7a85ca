namespace RotationStudy.Statistics.Survival;

/// <summary>Two groups compared by their restricted mean survival time.</summary>
/// <param name="First">Restricted mean of the first group.</param>
/// <param name="Second">Restricted mean of the second group.</param>
/// <param name="Difference">Second minus first, in the unit of time.</param>
/// <param name="LogRatio">Log of second over first; take the exponential for the ratio.</param>
public sealed record RestrictedMeanComparison(Estimate First, Estimate Second, Estimate Difference, Estimate LogRatio);

/// <summary>How much event-free time is there on average up to a horizon? The restricted mean survival time.</summary>
/// <remarks>
/// The area under the Kaplan-Meier curve from 0 to the horizon: no proportional hazards are assumed, and the unit is that of time.
/// <para>Variance: the sum over events of (area from the event to the horizon)^2 d / (Y (Y - d)) where rows are independent, and
/// with clusters the sum of squared cluster influences (infinitesimal jackknife). In a comparison a cluster may have
/// rows in both groups: its influences on both are subtracted before squaring.</para>
/// <para>Edges: a horizon beyond the last follow-up of a group whose curve is above zero is refused, since the area there is not
/// observed. Some libraries offer the factor m/(m-1), m events; it is not used.</para>
/// <para><b>Sources</b>: Irwin JO, J Hyg 1949;47:188-189. Royston P and Parmar MKB, BMC Med Res Methodol 2013;13:152. Uno H et al., J Clin
/// Oncol 2014;32:2380-2385. Klein JP and Moeschberger ML, Survival Analysis, 2nd ed. 2003, section 4.5.</para>
/// <para><b>Checked against</b>: Survival/lung, Survival/clustered_delayed.</para>
/// </remarks>
public static class RestrictedMean
{
    /// <summary>Restricted mean of all rows.</summary>
    /// <param name="times">Follow-up, n rows.</param>
    /// <param name="horizon">End of the stretch, above zero, in the unit of the follow-up.</param>
    /// <param name="clusters">Rows that may be dependent; null for independent rows.</param>
    /// <param name="level">Level of the interval.</param>
    /// <exception cref="InvalidInputError">A horizon of zero or less, or beyond the follow-up.</exception>
    /// <exception cref="TooFewDataError">All rows belong to one cluster.</exception>
    public static Estimate Estimate(SurvivalTimes times, double horizon, Clusters? clusters = null, double level = ConfidenceInterval.DefaultLevel)
    {
        Area area = Areas(times, null, [""], horizon, clusters)[0];
        return Statistics.Estimate.Wald("restricted mean", area.Mean, Math.Sqrt(area.Variance), level: level);
    }

    /// <summary>Compares two groups; the one that appears first is the reference.</summary>
    /// <param name="times">Follow-up, n rows.</param>
    /// <param name="group">Name of each row's group, exactly two names, length n.</param>
    /// <param name="horizon">End of the stretch, above zero, in the unit of the follow-up.</param>
    /// <param name="clusters">Rows that may be dependent; null for independent rows.</param>
    /// <param name="level">Level of the intervals.</param>
    /// <exception cref="InvalidInputError">Not two groups, or a horizon of zero or less or beyond the follow-up of a group.</exception>
    /// <exception cref="TooFewDataError">All rows belong to one cluster.</exception>
    public static RestrictedMeanComparison Compare(
        SurvivalTimes times,
        IReadOnlyList<string> group,
        double horizon,
        Clusters? clusters = null,
        double level = ConfidenceInterval.DefaultLevel)
    {
        Require.SameLength(group.Count, times.Rows, "group");
        string[] names = [.. group.Distinct()];
        if (names.Length != 2)
            throw new InvalidInputError($"there are {names.Length} groups", "Compare two groups at a time.");
        Area[] area = Areas(times, Clusters.From(group), names, horizon, clusters);
        double difference = area[0].Variance + area[1].Variance;
        double logRatio = (area[0].Variance / Square(area[0].Mean)) + (area[1].Variance / Square(area[1].Mean));
        if (clusters is not null)
        {
            double shared = 0;
            for (int c = 0; c < clusters.Count; c++)
                shared += area[0].Influence[c] * area[1].Influence[c];
            difference = Math.Max(0, difference - (2 * shared));
            logRatio = Math.Max(0, logRatio - (2 * shared / (area[0].Mean * area[1].Mean)));
        }
        Estimate Wald(string term, double value, double variance) => Statistics.Estimate.Wald(term, value, Math.Sqrt(variance), level: level);
        return new RestrictedMeanComparison(
            Wald(names[0], area[0].Mean, area[0].Variance),
            Wald(names[1], area[1].Mean, area[1].Variance),
            Wald($"{names[1]} minus {names[0]}", area[1].Mean - area[0].Mean, difference),
            Wald($"log {names[1]} over {names[0]}", Math.Log(area[1].Mean / area[0].Mean), logRatio));
    }

    private readonly record struct Area(double Mean, double Variance, double[] Influence);

    private static double Square(double value) => value * value;

    private static Area[] Areas(SurvivalTimes times, Clusters? groups, string[] names, double horizon, Clusters? clusters)
    {
        if (!(horizon > 0 && double.IsFinite(horizon)))
            throw new InvalidInputError($"the horizon is {horizon}", "Give a time above zero.");
        ClusterRules.Require(clusters, times.Rows);
        RiskSets sets = RiskSets.Build(times, groups);
        Area[] areas = new Area[names.Length];
        for (int g = 0; g < names.Length; g++)
            areas[g] = AreaOf(times, sets, g, horizon, clusters);
        return areas;
    }

    private static Area AreaOf(SurvivalTimes times, RiskSets sets, int group, double horizon, Clusters? clusters)
    {
        int start = sets.MomentStart[group];
        int last = sets.MomentStart[group + 1] - 2;
        int end = last;
        while (end >= start && sets.Time[end] <= horizon)
            end--;
        double[] survival = new double[sets.Moments];
        double s = 1;
        for (int m = last; m > end; m--)
            survival[m] = s *= (double)(sets.AtRisk(m) - sets.EventCount[m]) / sets.AtRisk(m);
        double lastExit = times.Exit[sets.Row[sets.StratumStart[group]]];
        if (horizon > lastExit && s > 0)
        {
            throw new InvalidInputError(
                $"the horizon {horizon} lies beyond the last follow-up of a group, {lastExit}",
                "Take the smallest of the groups' last times, or less.");
        }
        // Areas from each event time to the horizon, from the horizon back.
        double[] remaining = new double[sets.Moments];
        double sum = 0;
        double until = horizon;
        for (int m = end + 1; m <= last; m++)
        {
            remaining[m] = sum += survival[m] * (until - sets.Time[m]);
            until = sets.Time[m];
        }
        (double variance, double[] influence) = clusters is null
            ? (IndependentVariance(sets, remaining, end, last), [])
            : ClusteredVariance(sets, group, remaining, end, last, clusters);
        return new Area(sum + until, variance, influence);
    }

    private static double IndependentVariance(RiskSets sets, double[] remaining, int end, int last)
    {
        double variance = 0;
        for (int m = end + 1; m <= last; m++)
        {
            double y = sets.AtRisk(m);
            double d = sets.EventCount[m];
            if (y > d)
                variance += Square(remaining[m]) * d / (y * (y - d));
        }
        return variance;
    }

    private static (double Variance, double[] Influence) ClusteredVariance(RiskSets sets, int group, double[] remaining, int end, int last, Clusters clusters)
    {
        double[] cumulative = new double[sets.Moments];
        double[] atEvent = new double[sets.Moments];
        double sum = 0;
        for (int m = last; m >= sets.MomentStart[group]; m--)
        {
            double y = sets.AtRisk(m);
            double d = sets.EventCount[m];
            if (m > end && y > d)
            {
                atEvent[m] = remaining[m] / (y - d);
                sum += atEvent[m] * d / y;
            }
            cumulative[m] = sum;
        }
        double[] influence = new double[clusters.Count];
        for (int q = sets.StratumStart[group]; q < sets.StratumStart[group + 1]; q++)
        {
            double met = cumulative[sets.FirstMoment[q]] - cumulative[sets.PastMoment[q]];
            influence[clusters.ClusterOfRow[sets.Row[q]]] += met - (sets.IsEvent[q] ? atEvent[sets.FirstMoment[q]] : 0);
        }
        double variance = 0;
        foreach (double value in influence)
            variance += value * value;
        return (variance, influence);
    }
}
