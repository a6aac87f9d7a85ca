namespace RotationStudy.Statistics.Survival;

/// <summary>How differences between groups are weighted over time in a rank test.</summary>
public enum RankWeight
{
    /// <summary>One at every event: the log-rank test, best against proportional hazards (Mantel 1966).</summary>
    LogRank,

    /// <summary>Number at risk: Gehan's generalised Wilcoxon test; its weights depend on censoring.</summary>
    Gehan,

    /// <summary>Product of 1 - d/(Y+1) up to and at the event: Peto and Peto's generalised Wilcoxon test.</summary>
    PetoPeto,

    /// <summary>S(t-)^rho (1 - S(t-))^gamma with the Kaplan-Meier estimate of all groups together (Fleming and Harrington 1991).</summary>
    FlemingHarrington,
}

/// <summary>Choices for a rank test.</summary>
public sealed record LogRankOptions
{
    /// <summary>Weights over time; one at every event by default.</summary>
    public RankWeight Weight { get; init; } = RankWeight.LogRank;

    /// <summary>Power of S(t-) for Fleming-Harrington weights: above zero stresses early differences.</summary>
    public double Rho { get; init; } = 1;

    /// <summary>Power of 1 - S(t-) for Fleming-Harrington weights: above zero stresses late differences.</summary>
    public double Gamma { get; init; }

    /// <summary>The defaults.</summary>
    public static LogRankOptions Default { get; } = new();
}

/// <summary>A rank test with what it compared.</summary>
/// <param name="Test">Chi-square statistic, degrees of freedom, p value.</param>
/// <param name="Groups">Names, by first appearance.</param>
/// <param name="Observed">Events per group, each times its weight.</param>
/// <param name="Expected">Events expected per group if hazards were equal, each times its weight.</param>
/// <param name="VarianceMethod">How the variance was reached.</param>
public sealed record LogRankResult(
    TestResult Test,
    IReadOnlyList<string> Groups,
    IReadOnlyList<double> Observed,
    IReadOnlyList<double> Expected,
    string VarianceMethod);

/// <summary>Do groups differ in the hazard of the event? The weighted log-rank family, stratified or not, for k groups.</summary>
/// <remarks>
/// At each event time of a stratum, d events among Y at risk are compared with d Y_g / Y expected in group g; weighted
/// differences are summed over times and strata to U and U' V^- U is referred to chi-square on groups minus 1.
/// <para>Variance: hypergeometric, w^2 d (Y - d) / (Y - 1) times the multinomial of Y_g / Y, where rows are independent. With
/// clusters the sum over clusters of squared influence, that is the robust score test of the proportional-hazards model at zero,
/// extended to weights ("cluster-robust log-rank"): right whatever the dependence within clusters, for many clusters.</para>
/// <para>Assumptions: rows at risk are exchangeable under equal hazards; censoring does not depend on the group given the strata,
/// for Gehan's weights above all. Groups never at risk at an event are left out of the degrees of freedom.</para>
/// <para>Where libraries differ: some call Fleming-Harrington weights with rho = 1 "Peto-Peto"; here these are two choices,
/// equal up to the Y + 1 and to S(t) against S(t-).</para>
/// <para><b>Sources</b>: Mantel N, Cancer Chemother Rep 1966;50:163-170. Gehan EA, Biometrika 1965;52:203-223. Peto R and Peto J, J R Stat
/// Soc A 1972;135:185-207. Fleming TR and Harrington DP, Counting Processes and Survival Analysis, 1991. Lee EW, Wei LJ
/// and Amato DA, in Survival Analysis: State of the Art, 1992, 237-247, and Jung SH, Stat Probab Lett 1999 (clusters).</para>
/// <para><b>Checked against</b>: Survival/gehan_6mp, Survival/lung, Survival/ovarian, Peers/tight_300; Cox score test without ties.</para>
/// </remarks>
public static class LogRank
{
    /// <summary>Tests that all groups have the same hazard at every time.</summary>
    /// <param name="times">Follow-up, n rows.</param>
    /// <param name="group">Name of each row's group, length n, at least two names.</param>
    /// <param name="clusters">Rows that may be dependent: asks for the cluster-robust version. Null: independent rows.</param>
    /// <param name="strata">Rows compared only among themselves. Null: one stratum.</param>
    /// <param name="options">Choices; null for the log-rank test.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree, or negative powers of the weights.</exception>
    /// <exception cref="TooFewDataError">No event, fewer than two groups at risk at events, or a single cluster.</exception>
    public static LogRankResult Test(
        SurvivalTimes times,
        IReadOnlyList<string> group,
        Clusters? clusters = null,
        Clusters? strata = null,
        LogRankOptions? options = null)
    {
        options ??= LogRankOptions.Default;
        Validate(times, group, clusters, strata, options);
        Clusters groups = Clusters.From(group);
        RankTestSums sums = new(RiskSets.Build(times, strata), groups, options);
        string[] names = [.. group.Distinct()];
        double[] variance = clusters is null ? sums.Hypergeometric() : sums.Robust(clusters);
        string test = clusters is null ? TestName(options) : TestName(options) + ", cluster-robust";
        return new LogRankResult(
            GroupDifferences.ChiSquare(test, [.. sums.Observed.Zip(sums.Expected, (o, e) => o - e)], sums.Expected, variance, names),
            names,
            sums.Observed,
            sums.Expected,
            clusters is null ? "hypergeometric" : "cluster-robust, sum of squared influences");
    }

    private static void Validate(SurvivalTimes times, IReadOnlyList<string> group, Clusters? clusters, Clusters? strata, LogRankOptions options)
    {
        Require.SameLength(group.Count, times.Rows, "group");
        if (strata is not null)
            Require.SameLength(strata.Rows, times.Rows, "strata");
        if (!(options.Rho >= 0 && options.Gamma >= 0))
            throw new InvalidInputError($"the powers of the weights are {options.Rho} and {options.Gamma}", "Give powers of zero or more.");
        if (times.EventCount == 0)
            throw new TooFewDataError("no row ends with an event", "Groups without events cannot be compared; report the follow-up.");
        ClusterRules.Require(clusters, times.Rows);
    }

    private static string TestName(LogRankOptions options) => options.Weight switch
    {
        RankWeight.LogRank => "log-rank",
        RankWeight.Gehan => "Gehan",
        RankWeight.PetoPeto => "Peto-Peto",
        _ => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"Fleming-Harrington, rho {options.Rho}, gamma {options.Gamma}"),
    };
}
