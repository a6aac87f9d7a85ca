namespace RotationStudy.Statistics.Survival;

/// <summary>How the error of a cumulative incidence is reached.</summary>
public enum CumulativeIncidenceVariance
{
    /// <summary>Sum of squared influences of rows, or of clusters where given: the infinitesimal jackknife.</summary>
    InfinitesimalJackknife,

    /// <summary>Delta method for counting processes with the factor (Y - d)/(Y - 1) for ties (Aalen 1978); independent rows only.</summary>
    Aalen,
}

/// <summary>Choices for cumulative incidence curves.</summary>
public sealed record AalenJohansenOptions
{
    /// <summary>How the error is reached; the jackknife is the default since it also serves dependent rows.</summary>
    public CumulativeIncidenceVariance Variance { get; init; } = CumulativeIncidenceVariance.InfinitesimalJackknife;

    /// <summary>Scale of the intervals.</summary>
    public IntervalTransform Transform { get; init; } = IntervalTransform.LogLog;

    /// <summary>Level of the intervals.</summary>
    public double Level { get; init; } = ConfidenceInterval.DefaultLevel;

    /// <summary>The defaults.</summary>
    public static AalenJohansenOptions Default { get; } = new();
}

/// <summary>What share has had an event of one cause by a given time, other causes competing? The Aalen-Johansen estimate.</summary>
/// <remarks>
/// F_k(t) = sum over times s up to t of S(s-) d_k(s) / Y(s), S the Kaplan-Meier estimate for all causes together, d_k events of the
/// cause among Y at risk. The incidences of all causes and S sum to one.
/// <para>Assumptions: censoring and late entry tell nothing about the causes; causes need not be independent of one another, which
/// could not be seen from such data anyhow.</para>
/// <para>Variance: infinitesimal jackknife by row or by cluster (found for all times in one sweep, O(n log n)), or Aalen's. The two
/// differ in small samples and libraries differ in which they print; the curve names its own. Intervals are pointwise on
/// log(-log F) by default.</para>
/// <para>Edges: with one cause F is one minus Kaplan-Meier. A cause that no row has is a curve at zero. Once S has reached zero
/// nothing changes any more, even if late entries follow.</para>
/// <para><b>Sources</b>: Aalen OO and Johansen S, Scand J Stat 1978;5:141-150. Aalen OO, Ann Stat 1978;6:534-545. Gray RJ, Ann Stat
/// 1988;16:1141-1154. Marubini E and Valsecchi MG, Analysing Survival Data, 1995, ch. 10.</para>
/// <para><b>Checked against</b>: Survival/melanoma, Survival/competing_delayed, Peers/tight_300.</para>
/// </remarks>
public static class AalenJohansen
{
    /// <summary>Cumulative incidence of one cause for all rows.</summary>
    /// <param name="times">Follow-up with causes, n rows.</param>
    /// <param name="cause">Cause, from 1.</param>
    /// <param name="clusters">Rows that may be dependent; null for independent rows.</param>
    /// <param name="options">Choices; null for the defaults.</param>
    /// <exception cref="InvalidInputError">No such cause, lengths that do not agree, or Aalen's variance with clusters.</exception>
    /// <exception cref="TooFewDataError">All rows belong to one cluster.</exception>
    public static CumulativeIncidenceCurve Estimate(CompetingTimes times, int cause, Clusters? clusters = null, AalenJohansenOptions? options = null)
        => Curves(times, cause, null, [""], clusters, options ?? AalenJohansenOptions.Default)[0];

    /// <summary>Cumulative incidence of one cause per group, in the order in which the groups first appear.</summary>
    /// <param name="times">Follow-up with causes, n rows.</param>
    /// <param name="cause">Cause, from 1.</param>
    /// <param name="group">Name of each row's group, length n.</param>
    /// <param name="clusters">Rows that may be dependent; null for independent rows.</param>
    /// <param name="options">Choices; null for the defaults.</param>
    /// <exception cref="InvalidInputError">No such cause, lengths that do not agree, or Aalen's variance with clusters.</exception>
    /// <exception cref="TooFewDataError">All rows belong to one cluster.</exception>
    public static IReadOnlyList<CumulativeIncidenceCurve> EstimateByGroup(
        CompetingTimes times,
        int cause,
        IReadOnlyList<string> group,
        Clusters? clusters = null,
        AalenJohansenOptions? options = null)
    {
        Require.SameLength(group.Count, times.Rows, "group");
        return Curves(times, cause, Clusters.From(group), [.. group.Distinct()], clusters, options ?? AalenJohansenOptions.Default);
    }

    private static CumulativeIncidenceCurve[] Curves(CompetingTimes times, int cause, Clusters? groups, string[] names, Clusters? clusters, AalenJohansenOptions options)
    {
        CompetingTimes.RequireCause(cause);
        Require.Probability(options.Level, "level");
        ClusterRules.Require(clusters, times.Rows);
        if (clusters is not null && options.Variance == CumulativeIncidenceVariance.Aalen)
            throw new InvalidInputError("Aalen's variance takes rows as independent", "With clusters use the infinitesimal jackknife.");
        RiskSets sets = RiskSets.Build(times.AnyCause, groups);
        CumulativeIncidenceCurve[] curves = new CumulativeIncidenceCurve[names.Length];
        for (int g = 0; g < names.Length; g++)
            curves[g] = Curve(times, sets, g, cause, names[g], clusters, options);
        return curves;
    }

    private static CumulativeIncidenceCurve Curve(CompetingTimes times, RiskSets sets, int group, int cause, string name, Clusters? clusters, AalenJohansenOptions options)
    {
        IncidenceSums sums = new(times, sets, group, cause);
        double[] variance = options.Variance == CumulativeIncidenceVariance.Aalen
            ? sums.Aalen()
            : sums.Jackknife(clusters ?? Clusters.EachRow(times.Rows));
        int start = sets.MomentStart[group];
        int last = sets.MomentStart[group + 1] - 2;
        IncidenceStep[] steps = new IncidenceStep[last + 1 - start];
        for (int m = last; m >= start; m--)
        {
            double incidence = sums.Incidence[m - start];
            double error = Math.Sqrt(variance[m - start]);
            ConfidenceInterval interval = ProbabilityInterval.Of(incidence, error, options.Transform, options.Level);
            steps[last - m] = new IncidenceStep(sets.Time[m], sets.AtRisk(m), sums.Events[m - start], incidence, error, interval);
        }
        (double[] entries, double[] exits, List<double> censored) = KaplanMeier.FollowUp(times.AnyCause, sets, group);
        string method = options.Variance == CumulativeIncidenceVariance.Aalen ? "Aalen"
            : clusters is null ? "infinitesimal jackknife by row"
            : "infinitesimal jackknife by cluster";
        return new CumulativeIncidenceCurve(name, cause, steps, entries, exits, censored, $"{method}; {KaplanMeier.TransformName(options.Transform)} intervals", options.Level);
    }
}
