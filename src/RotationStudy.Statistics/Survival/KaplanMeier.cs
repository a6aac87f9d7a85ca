namespace RotationStudy.Statistics.Survival;

/// <summary>Choices for a survival curve.</summary>
public sealed record KaplanMeierOptions
{
    /// <summary>Scale of the intervals. Log-log is the default: within 0 and 1, and close to its level in small groups.</summary>
    public IntervalTransform Transform { get; init; } = IntervalTransform.LogLog;

    /// <summary>Level of the intervals.</summary>
    public double Level { get; init; } = ConfidenceInterval.DefaultLevel;

    /// <summary>The defaults.</summary>
    public static KaplanMeierOptions Default { get; } = new();
}

/// <summary>What share is still free of the event after a given time? The product-limit estimate of Kaplan and Meier.</summary>
/// <remarks>
/// S(t) = product over event times s up to t of 1 - d(s)/Y(s), d events among Y rows at risk (entry before s, exit at or after).
/// <para>Assumptions: censoring and late entry tell nothing about the event. Where another event makes this one impossible,
/// 1 - S overstates its share: use the cumulative incidence of Aalen and Johansen.</para>
/// <para>Variance: Greenwood's, S^2 times the sum of d / (Y (Y - d)), where rows are independent. With clusters the
/// infinitesimal jackknife: each cluster's derivative of S with respect to its weight, squared and summed; clusters may
/// hold any number of rows and rows may be dependent within them. Found for all times in one sweep, O(n log n) in all.</para>
/// <para>Edges: before the first event S is 1 with standard error 0. Once S has fallen to 0 its standard error is 0 and the upper
/// bound stays at its last positive value, since a survival curve cannot rise; other libraries give no bound there. With late
/// entry a risk set that empties early takes the curve to 0 for good: the estimate is then of little use and the
/// numbers at risk show it. Pointwise intervals, not bands. A group without rows does not exist; one without events is flat.</para>
/// <para><b>Sources</b>: Kaplan EL and Meier P, J Am Stat Assoc 1958;53:457-481. Greenwood M, Reports on Public Health and
/// Medical Subjects 33, 1926. Borgan Ø and Liestøl K, Scand J Stat 1990;17:35-41 (transforms). Brookmeyer R and Crowley J,
/// Biometrics 1982;38:29-41 (quantiles). Ying Z and Wei LJ, J Multivar Anal 1994;50:17-29 (dependent rows).</para>
/// <para><b>Checked against</b>: Survival/gehan_6mp, Survival/lung, Survival/clustered_delayed, Peers/tight_300.</para>
/// </remarks>
public static class KaplanMeier
{
    /// <summary>One curve for all rows.</summary>
    /// <param name="times">Follow-up, n rows.</param>
    /// <param name="clusters">Rows that may be dependent; null for independent rows.</param>
    /// <param name="options">Choices; null for the defaults.</param>
    /// <exception cref="InvalidInputError">Clusters of another number of rows, or a level outside 0 and 1.</exception>
    /// <exception cref="TooFewDataError">All rows belong to one cluster.</exception>
    public static SurvivalCurve Estimate(SurvivalTimes times, Clusters? clusters = null, KaplanMeierOptions? options = null)
        => Curves(times, null, [""], clusters, options ?? KaplanMeierOptions.Default)[0];

    /// <summary>One curve per group, in the order in which the groups first appear.</summary>
    /// <param name="times">Follow-up, n rows.</param>
    /// <param name="group">Name of each row's group, length n.</param>
    /// <param name="clusters">Rows that may be dependent; null for independent rows.</param>
    /// <param name="options">Choices; null for the defaults.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree, or a level outside 0 and 1.</exception>
    /// <exception cref="TooFewDataError">All rows belong to one cluster.</exception>
    public static IReadOnlyList<SurvivalCurve> EstimateByGroup(
        SurvivalTimes times,
        IReadOnlyList<string> group,
        Clusters? clusters = null,
        KaplanMeierOptions? options = null)
    {
        Require.SameLength(group.Count, times.Rows, "group");
        return Curves(times, Clusters.From(group), [.. group.Distinct()], clusters, options ?? KaplanMeierOptions.Default);
    }

    private static SurvivalCurve[] Curves(SurvivalTimes times, Clusters? groups, string[] names, Clusters? clusters, KaplanMeierOptions options)
    {
        Require.Probability(options.Level, "level");
        ClusterRules.Require(clusters, times.Rows);
        RiskSets sets = RiskSets.Build(times, groups);
        SurvivalCurve[] curves = new SurvivalCurve[names.Length];
        for (int g = 0; g < names.Length; g++)
            curves[g] = Curve(times, sets, g, names[g], clusters, options);
        return curves;
    }

    private static SurvivalCurve Curve(SurvivalTimes times, RiskSets sets, int group, string name, Clusters? clusters, KaplanMeierOptions options)
    {
        double[] relative = clusters is null
            ? GreenwoodSums(sets, group)
            : ClusteredProductLimit.RelativeVariances(sets, group, clusters);
        int start = sets.MomentStart[group];
        int last = sets.MomentStart[group + 1] - 2;
        SurvivalStep[] steps = new SurvivalStep[last + 1 - start];
        double survival = 1;
        double upper = 1;
        for (int m = last; m >= start; m--)
        {
            int atRisk = sets.AtRisk(m);
            survival *= (double)(atRisk - sets.EventCount[m]) / atRisk;
            double error = survival * Math.Sqrt(relative[m - start]);
            ConfidenceInterval interval = ProbabilityInterval.Of(survival, error, options.Transform, options.Level);
            if (survival == 0)
                interval = interval with { Upper = upper };
            upper = interval.Upper;
            steps[last - m] = new SurvivalStep(sets.Time[m], atRisk, sets.EventCount[m], survival, error, interval);
        }
        (double[] entries, double[] exits, List<double> censored) = FollowUp(times, sets, group);
        string variance = clusters is null ? "Greenwood" : "infinitesimal jackknife by cluster";
        return new SurvivalCurve(name, steps, entries, exits, censored, $"{variance}; {TransformName(options.Transform)} intervals", options.Level);
    }

    internal static string TransformName(IntervalTransform transform) => transform switch
    {
        IntervalTransform.LogLog => "log-log",
        IntervalTransform.Log => "log",
        _ => "plain",
    };

    // Sum of d / (Y (Y - d)) up to each moment; zero once the curve has reached zero.
    private static double[] GreenwoodSums(RiskSets sets, int group)
    {
        int start = sets.MomentStart[group];
        int last = sets.MomentStart[group + 1] - 2;
        double[] sums = new double[last + 1 - start];
        double sum = 0;
        for (int m = last; m >= start && sets.AtRisk(m) > sets.EventCount[m]; m--)
        {
            double atRisk = sets.AtRisk(m);
            sums[m - start] = sum += sets.EventCount[m] / (atRisk * (atRisk - sets.EventCount[m]));
        }
        return sums;
    }

    internal static (double[] Entries, double[] Exits, List<double> Censored) FollowUp(SurvivalTimes times, RiskSets sets, int group)
    {
        int start = sets.StratumStart[group];
        int n = sets.StratumStart[group + 1] - start;
        double[] entries = new double[n];
        double[] exits = new double[n];
        List<double> censored = [];
        for (int i = 0; i < n; i++)
        {
            int row = sets.Row[start + n - 1 - i];
            entries[i] = times.Entry[row];
            exits[i] = times.Exit[row];
            if (!times.IsEvent[row] && (censored.Count == 0 || censored[^1] != exits[i]))
                censored.Add(exits[i]);
        }
        Array.Sort(entries);
        return (entries, exits, censored);
    }
}
