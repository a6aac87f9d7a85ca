using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>
/// Covariance of regression coefficients when rows of a cluster may be dependent in any way, for every fit that ends in
/// a weighted least-squares step.
/// </summary>
/// <remarks>
/// <para><b>Model</b>: X'r(b) = 0 with one score residual per row (n rows, p coefficients, G clusters); V = M [sum over
/// clusters of S_g S_g'] M with M = (X'WX)^-1 and S_g = X_g' r_g, the residuals adjusted as
/// <see cref="ClusterVariance"/> says. Rows of different clusters are taken as independent; within a cluster nothing is
/// assumed.</para>
/// <para><b>CR2 and its degrees of freedom</b> take as working model independent rows with variance 1/w. The adjustment
/// is described at <see cref="ClusterAdjustment"/>, the degrees of freedom at <see cref="SatterthwaiteMoments"/>; a
/// generalised linear model hands in its working weights and response variances at the estimate. Degrees of freedom
/// under about 4 mean that the t approximation is poor.</para>
/// <para><b>Default</b>: CR2, with many clusters too. What makes CR1 too small is uneven leverage, not the number of
/// clusters alone: with a skewed exposure of the person its 95% intervals held the truth 91% of the time at 200 persons
/// and 93% at 1000 (docs/coverage/linear.md); with even leverage the two agree.</para>
/// <para><b>Two ways of clustering</b> (sites and raters): V = V(first) + V(second) - V(both), each with its own
/// G/(G-1), on min(G1, G2) - 1 degrees of freedom (Cameron, Gelbach and Miller 2011). The difference may have negative
/// eigenvalues; these are set to zero, and the method's name says so.</para>
/// <para><b>Edges</b>: one cluster: refused, there is nothing between clusters to estimate from. Clusters of one row:
/// CR0 is HC0, CR2 is HC2, CR3 is HC3. A cluster absorbed by columns of its own: Moore-Penrose, it adds nothing; a coefficient
/// that only such clusters carry has variance and degrees of freedom of zero, and its interval is refused. Rows
/// of weight zero and clusters made of them only take no part, in G and n either. Time is linear in n; memory is n by
/// p.</para>
/// <para><b>Sources</b>: Liang KY, Zeger SL. Biometrika 1986;73:13-22; Bell RM, McCaffrey DF. Survey Methodology
/// 2002;28:169-181; Pustejovsky JE, Tipton E. J Bus Econ Stat 2018;36:672-683; Tipton E, Pustejovsky JE. J Educ Behav
/// Stat 2015;40:604-634; Cameron AC, Gelbach JB, Miller DL. J Bus Econ Stat 2011;29:238-249.</para>
/// <para><b>Checked against</b>: Mixed/orthodont, Linear/cluster_robust.</para>
/// </remarks>
internal static class ClusterRobustCovariance
{
    /// <summary>The variance to use where none is asked for, whatever the number of clusters.</summary>
    internal const ClusterVariance DefaultVariance = ClusterVariance.CR2;

    /// <summary>The estimates of a fit with cluster-robust covariance and degrees of freedom.</summary>
    /// <exception cref="TooFewDataError">Fewer than two clusters.</exception>
    /// <exception cref="InvalidInputError">The clusters are not of the design's rows.</exception>
    internal static Coefficients Estimate(WorkingLeastSquares fit, Clusters clusters, ClusterVariance variance)
    {
        int p = fit.Design.Columns;
        int used = UsedClusters(fit, clusters);
        bool adjusts = variance is ClusterVariance.CR2 or ClusterVariance.CR3;
        ClusterAdjustment? adjustment = adjusts ? new ClusterAdjustment(fit, clusters, variance) : null;
        double[] sums = adjustment is null
            ? WhitenedScoreSums(fit, clusters)
            : ScoreSums(fit.Whitened, p, Adjusted(fit, clusters, adjustment), clusters);
        double[] meat = Meat(sums, p, clusters.Count);
        SymmetricMatrix covariance = fit.FromWhitened(meat, Factor(variance, used, fit.RowsUsed, p));
        double[] df = new double[p];
        if (variance == ClusterVariance.CR2)
            df = SatterthwaiteMoments.DegreesOfFreedom(fit, adjustment!, clusters.Count, SmallMatrix.Identity(p), p);
        else
            Array.Fill(df, variance == ClusterVariance.CR0 ? double.PositiveInfinity : used - 1);
        return new Coefficients(fit.Values, covariance, Name(variance, used), df) { LeaveOut = LeaveOutShifts.FromSums(fit.BreadRoot, sums, p) };
    }

    /// <summary>
    /// CR0 or CR1 from the scores themselves, for fits with more than one linear predictor (ordinal, joint with a dispersion).
    /// </summary>
    /// <param name="values">Estimates, length p.</param>
    /// <param name="bread">Inverse information, p by p; its names are the terms.</param>
    /// <param name="scores">Score of each row, column after column, n by p.</param>
    /// <param name="clusters">Clusters of the n rows.</param>
    /// <param name="variance">CR0, CR1 or CR1ClustersOnly: the others need leverages, which such fits do not have.</param>
    /// <param name="unitOfCluster">Which of these clusters each cluster of the caller is, -1 for none; null where they are the same.</param>
    /// <exception cref="TooFewDataError">Fewer than two clusters.</exception>
    /// <exception cref="InvalidInputError">A variance that needs leverages, or lengths that do not agree.</exception>
    internal static Coefficients FromScores(
        ReadOnlySpan<double> values, SymmetricMatrix bread, ReadOnlySpan<double> scores, Clusters clusters, ClusterVariance variance, int[]? unitOfCluster = null)
    {
        int p = bread.Size;
        if (variance is ClusterVariance.CR2 or ClusterVariance.CR3)
            throw new InvalidInputError($"{variance} needs the leverage of each cluster, which this fit does not have", "Ask for CR1.");
        Require.SameLength(scores.Length, clusters.Rows * p, "scores");
        RequireTwo(clusters.Count);
        double[] sums = ScoreSums(scores, p, [], clusters);
        LeaveOutShifts shifts = LeaveOutShifts.FromSums(bread.Values, sums, p);
        return FromMeat(
            values, bread, Meat(sums, p, clusters.Count), clusters.Count, clusters.Rows, variance, unitOfCluster is null ? shifts : shifts.Renumbered(unitOfCluster));
    }

    /// <summary>CR0 or CR1 from the sum of the outer products of the clusters' scores, p by p.</summary>
    /// <exception cref="TooFewDataError">Fewer than two clusters.</exception>
    internal static Coefficients FromMeat(
        ReadOnlySpan<double> values, SymmetricMatrix bread, double[] meat, int clusters, int rows, ClusterVariance variance, LeaveOutShifts? leaveOut = null)
    {
        int p = bread.Size;
        double[] full = SmallMatrix.Product(SmallMatrix.Product(bread.Values, meat, p, p, p), bread.Values, p, p, p);
        double[] df = new double[p];
        Array.Fill(df, variance == ClusterVariance.CR0 ? double.PositiveInfinity : clusters - 1);
        return FromCovariance(values, new SymmetricMatrix(bread.Names, full).Scale(Factor(variance, clusters, rows, p)), clusters, variance, df, leaveOut);
    }

    /// <summary>A covariance that was summed elsewhere, under the name of its method.</summary>
    /// <exception cref="TooFewDataError">Fewer than two clusters.</exception>
    internal static Coefficients FromCovariance(ReadOnlySpan<double> values, SymmetricMatrix covariance, int clusters, ClusterVariance variance, double[] df, LeaveOutShifts? leaveOut = null)
    {
        RequireTwo(clusters);
        return new Coefficients(values, covariance, Name(variance, clusters), df) { LeaveOut = leaveOut };
    }

    /// <summary>Sum of the outer products of the clusters' adjusted scores on the whitened scale.</summary>
    internal static double[] WhitenedMeat(WorkingLeastSquares fit, Clusters clusters, ClusterAdjustment adjustment)
    {
        int p = fit.Design.Columns;
        return Meat(ScoreSums(fit.Whitened, p, Adjusted(fit, clusters, adjustment), clusters), p, clusters.Count);
    }

    /// <summary>
    /// Two crossed ways of clustering (Cameron, Gelbach and Miller 2011), with CR0 or CR1 in each of the three parts.
    /// </summary>
    /// <exception cref="TooFewDataError">Fewer than two clusters in either way.</exception>
    /// <exception cref="InvalidInputError">CR2 or CR3, which are not defined for two ways.</exception>
    internal static Coefficients TwoWay(WorkingLeastSquares fit, Clusters first, Clusters second, ClusterVariance variance)
    {
        if (variance is ClusterVariance.CR2 or ClusterVariance.CR3)
            throw new InvalidInputError($"{variance} is not defined for two ways of clustering", "Ask for CR1.");
        Require.SameLength(second.Rows, first.Rows, "second clusters");
        (int, int)[] pairs = new (int, int)[first.Rows];
        for (int i = 0; i < pairs.Length; i++)
            pairs[i] = (first.ClusterOfRow[i], second.ClusterOfRow[i]);
        SymmetricMatrix a = Estimate(fit, first, variance).Covariance;
        SymmetricMatrix b = Estimate(fit, second, variance).Covariance;
        SymmetricMatrix both = Estimate(fit, Clusters.From(pairs), variance).Covariance;
        int p = a.Size;
        double[] sum = new double[p * p];
        for (int i = 0; i < sum.Length; i++)
            sum[i] = a.Values[i] + b.Values[i] - both.Values[i];
        bool truncated = SmallMatrix.TruncateNegativeEigenvalues(sum, p);
        int smaller = Math.Min(UsedClusters(fit, first), UsedClusters(fit, second));
        double[] df = new double[p];
        Array.Fill(df, variance == ClusterVariance.CR0 ? double.PositiveInfinity : smaller - 1);
        string note = truncated ? ", negative eigenvalues set to zero" : "";
        string name = $"cluster-robust in two ways, {Label(variance)}, {smaller} clusters in the smaller way{note}";
        return new Coefficients(fit.Values, new SymmetricMatrix(a.Names, sum), name, df);
    }

    /// <summary>Satterthwaite degrees of freedom of one linear combination of the coefficients under CR2.</summary>
    internal static double DegreesOfFreedom(WorkingLeastSquares fit, Clusters clusters, ReadOnlySpan<double> contrast)
    {
        UsedClusters(fit, clusters);
        ClusterAdjustment adjustment = new(fit, clusters, ClusterVariance.CR2);
        return SatterthwaiteMoments.DegreesOfFreedom(fit, adjustment, clusters.Count, contrast.ToArray(), 1)[0];
    }

    /// <summary>
    /// Sums of the adjusted scores per cluster, G by p column after column; p columns times a residual when one is given.
    /// </summary>
    internal static double[] ScoreSums(ReadOnlySpan<double> columns, int p, ReadOnlySpan<double> residuals, Clusters clusters)
    {
        int n = clusters.Rows;
        ReadOnlySpan<int> of = clusters.ClusterOfRow;
        double[] sums = new double[clusters.Count * p];
        for (int j = 0; j < p; j++)
        {
            ReadOnlySpan<double> column = columns.Slice(j * n, n);
            Span<double> into = sums.AsSpan(j * clusters.Count, clusters.Count);
            if (residuals.IsEmpty)
            {
                for (int i = 0; i < n; i++)
                    into[of[i]] += column[i];
            }
            else
            {
                for (int i = 0; i < n; i++)
                    into[of[i]] += column[i] * residuals[i];
            }
        }
        return sums;
    }

    internal static string Label(ClusterVariance variance)
        => variance switch
        {
            ClusterVariance.CR1 => "CR1 = G/(G-1) (n-1)/(n-k)",
            ClusterVariance.CR1ClustersOnly => "CR1 = G/(G-1)",
            ClusterVariance.CR2 => "CR2 with Satterthwaite degrees of freedom",
            _ => variance.ToString(),
        };

    /// <summary>Number of clusters with a row of positive weight; two are needed.</summary>
    internal static int UsedClusters(WorkingLeastSquares fit, Clusters clusters)
    {
        Require.SameLength(clusters.Rows, fit.Design.Rows, "clusters");
        int used = clusters.Count;
        if (fit.Weights.Length > 0)
        {
            bool[] seen = new bool[clusters.Count];
            used = 0;
            for (int i = 0; i < clusters.Rows; i++)
            {
                int c = clusters.ClusterOfRow[i];
                if (fit.IsUsed(i) && !seen[c])
                {
                    seen[c] = true;
                    used++;
                }
            }
        }
        RequireTwo(used);
        return used;
    }

    private static void RequireTwo(int clusters)
    {
        if (clusters < 2)
            throw new TooFewDataError(
                $"{clusters} cluster gives no variance between clusters",
                "Name clusters that repeat, or use a variance for independent rows.");
    }

    private static string Name(ClusterVariance variance, int clusters) => $"cluster-robust, {Label(variance)}, {clusters} clusters";

    private static double Factor(ClusterVariance variance, int clusters, int rows, int p)
    {
        double g = clusters;
        return variance switch
        {
            ClusterVariance.CR1 => g / (g - 1) * (rows - 1) / (rows - p),
            ClusterVariance.CR1ClustersOnly => g / (g - 1),
            _ => 1,
        };
    }

    private static double[] Adjusted(WorkingLeastSquares fit, Clusters clusters, ClusterAdjustment adjustment)
    {
        double[] adjusted = new double[fit.Design.Rows];
        double[] buffer = new double[clusters.LargestSize];
        for (int c = 0; c < clusters.Count; c++)
        {
            adjustment.Load(c);
            adjustment.Apply(adjustment.Residuals, buffer, transposed: false);
            for (int i = 0; i < adjustment.Size; i++)
                adjusted[adjustment.Rows[i]] = buffer[i];
        }
        return adjusted;
    }

    /// <summary>Score sums per cluster times N: without leverages nothing has to be whitened row by row.</summary>
    private static double[] WhitenedScoreSums(WorkingLeastSquares fit, Clusters clusters)
    {
        int p = fit.Design.Columns;
        int count = clusters.Count;
        double[] sums = ScoreSums(fit.Design.Values, p, fit.ScoreResiduals, clusters);
        double[] whitened = new double[sums.Length];
        for (int j = 0; j < p; j++)
        {
            for (int i = 0; i < p; i++)
                CrossProduct.AddScaled(sums.AsSpan(i * count, count), fit.BreadRoot[(i * p) + j], whitened.AsSpan(j * count, count));
        }
        return whitened;
    }

    private static double[] Meat(ReadOnlySpan<double> sums, int p, int count)
    {
        double[] meat = new double[p * p];
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j <= i; j++)
                meat[(i * p) + j] = meat[(j * p) + i] = CrossProduct.Dot(sums.Slice(i * count, count), sums.Slice(j * count, count));
        }
        return meat;
    }
}
