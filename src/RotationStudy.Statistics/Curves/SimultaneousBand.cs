using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Curves;

/// <summary>How a simultaneous band is made.</summary>
public sealed record BandOptions
{
    /// <summary>Level of confidence of the whole band.</summary>
    public double Level { get; init; } = ConfidenceInterval.DefaultLevel;

    /// <summary>Number of draws of multipliers; 2000 because the 95% point then rests on 100 values beyond it.</summary>
    public int Draws { get; init; } = 2000;

    /// <summary>The study's seed.</summary>
    public ulong Seed { get; init; }

    /// <summary>The name of the random stream; one name per use.</summary>
    public string Stream { get; init; } = "simultaneous band";

    /// <summary>Threads to use at most; -1 for all cores. The result does not depend on it.</summary>
    public int Threads { get; init; } = -1;
}

/// <summary>A mean curve, or a difference of two, with a band that holds the whole curve at once.</summary>
/// <param name="Grid">The grid.</param>
/// <param name="Value">Estimate at each point.</param>
/// <param name="StandardError">Standard error at each point, by cluster.</param>
/// <param name="Lower">Lower edge.</param>
/// <param name="Upper">Upper edge.</param>
/// <param name="CriticalValue">Standard errors from estimate to edge, the same at every point.</param>
/// <param name="Clusters">Clusters that enter.</param>
/// <param name="Level">Level of the whole band.</param>
public sealed record SimultaneousBandResult(
    IReadOnlyList<double> Grid, IReadOnlyList<double> Value, IReadOnlyList<double> StandardError,
    IReadOnlyList<double> Lower, IReadOnlyList<double> Upper, double CriticalValue, int Clusters, double Level);

/// <summary>Simultaneous bands of mean curves and of differences of two groups, by signs drawn per cluster.</summary>
/// <remarks>
/// <para>At each point of the grid the mean over curves, with the variance by cluster (sum of squared influences of clusters,
/// times G/(G-1)); curves of one person may be as alike as they are, and a person may have curves in both groups. The edge is
/// the mean plus or minus c standard errors, c the level's quantile of the largest |t| over the grid: influences are given
/// random signs, one per cluster for the whole curve, and each draw is studentised by its own standard error. The shape of
/// the dependence over the grid is kept, and the tails are those of t where clusters are few.</para>
/// <para>Assumptions: clusters independent; a gap at a point says nothing about the value there. The band holds at the points
/// of the grid, not between them. Fewer than 5 clusters of a group at a point are refused: signs of 5 have only 16 patterns up
/// to reversal. A point where nothing varies has a band of no width.</para>
/// <para><b>Sources.</b> Chang C, Lin X, Ogden RT, J Stat Plan Inference 2017;188:67-81 (multiplier bands of functional data; recalled);
/// Telschow FJE, Schwartzman A, J Stat Plan Inference 2022;216:70-94 (studentised multipliers, random signs for few curves);
/// Cameron AC, Gelbach JB, Miller DL, Rev Econ Stat 2008;90:414-427 (signs per cluster). <b>Checked against</b> the t
/// distribution at a single point, and coverage by simulation.</para>
/// </remarks>
public static class SimultaneousBand
{
    private const int FewestClusters = 5;

    /// <summary>The mean curve of all curves.</summary>
    /// <exception cref="TooFewDataError">Fewer than 5 clusters with a value at a point.</exception>
    public static SimultaneousBandResult Mean(CurveSet curves, BandOptions options)
    {
        bool[] all = new bool[curves.Rows];
        Array.Fill(all, true);
        return Estimate(curves, [(GroupInfluence.Of(curves, all), 1)], options);
    }

    /// <summary>Mean of the curves marked true less mean of the others.</summary>
    /// <param name="curves">All curves.</param>
    /// <param name="marked">Which belong to the first group; a cluster may have curves in both.</param>
    /// <param name="options">Level, draws, seed, stream.</param>
    /// <exception cref="TooFewDataError">Fewer than 5 clusters of a group with a value at a point.</exception>
    public static SimultaneousBandResult Difference(CurveSet curves, IReadOnlyList<bool> marked, BandOptions options)
    {
        Require.SameLength(marked.Count, curves.Rows, "groups");
        bool[] first = [.. marked];
        bool[] second = Array.ConvertAll(first, m => !m);
        return Estimate(curves, [(GroupInfluence.Of(curves, first), 1), (GroupInfluence.Of(curves, second), -1)], options);
    }

    private static SimultaneousBandResult Estimate(CurveSet curves, (GroupInfluence Group, int Sign)[] groups, BandOptions options)
    {
        Require.Probability(options.Level, "level");
        if (options.Draws < 1)
            throw new InvalidInputError($"{options.Draws} draws were asked for", "Ask for 2000.");
        Refuse(curves, groups);
        int m = curves.Points;
        double[] value = new double[m];
        double[] error = new double[m];
        for (int j = 0; j < m; j++)
        {
            foreach ((GroupInfluence group, int sign) in groups)
                value[j] += sign * group.Mean[j];
            error[j] = PointError(groups, curves.Clusters.Count, j);
        }
        double[] largest = new double[options.Draws];
        Parallel.For(0, options.Draws, new ParallelOptions { MaxDegreeOfParallelism = options.Threads }, r =>
            largest[r] = LargestStatistic(groups, curves.Clusters.Count, error, new RandomStream(options.Seed, options.Stream, r)));
        Array.Sort(largest);
        double c = OrderStatistic.At(largest, options.Level);
        return new SimultaneousBandResult(
            [.. curves.Grid], value, error,
            [.. value.Select((v, j) => v - (c * error[j]))], [.. value.Select((v, j) => v + (c * error[j]))],
            c, curves.Clusters.Count, options.Level);
    }

    private static void Refuse(CurveSet curves, (GroupInfluence Group, int Sign)[] groups)
    {
        foreach ((GroupInfluence group, _) in groups)
        {
            for (int j = 0; j < curves.Points; j++)
            {
                if (group.ClusterCount[j] < FewestClusters)
                    throw new TooFewDataError(FormattableString.Invariant($"{group.ClusterCount[j]} clusters have a value at {curves.Grid[j]}, too few for a band"), $"Leave the point out, or find {FewestClusters} clusters or more.");
            }
        }
    }

    private static double PointError((GroupInfluence Group, int Sign)[] groups, int clusters, int point)
    {
        double squares = 0;
        for (int g = 0; g < clusters; g++)
        {
            double psi = 0;
            foreach ((GroupInfluence group, int sign) in groups)
                psi += sign * group.Factor(point) * group.Of(g, point);
            squares += psi * psi;
        }
        return Math.Sqrt(squares);
    }

    /// <summary>The largest |t| over the grid once every cluster has a random sign, each point by the standard error of the draw itself.</summary>
    private static double LargestStatistic((GroupInfluence Group, int Sign)[] groups, int clusters, double[] error, RandomStream random)
    {
        double[] signs = new double[clusters];
        for (int g = 0; g < clusters; g++)
            signs[g] = random.Bernoulli(0.5) ? 1 : -1;
        double largest = 0;
        double[] shift = new double[groups.Length];
        for (int j = 0; j < error.Length; j++)
        {
            if (error[j] == 0)
                continue;
            double sum = 0;
            for (int k = 0; k < groups.Length; k++)
            {
                double own = 0;
                for (int g = 0; g < clusters; g++)
                    own += signs[g] * groups[k].Group.Of(g, j);
                shift[k] = own / groups[k].Group.ClusterCount[j];
                sum += groups[k].Sign * own;
            }
            double squares = 0;
            for (int g = 0; g < clusters; g++)
            {
                double psi = 0;
                for (int k = 0; k < groups.Length; k++)
                {
                    if (groups[k].Group.Has(g, j))
                        psi += groups[k].Sign * groups[k].Group.Factor(j) * ((signs[g] * groups[k].Group.Of(g, j)) - shift[k]);
                }
                squares += psi * psi;
            }
            // All clusters drawn to one sign of their influence leave no spread; the draw is beyond any finite edge only in name.
            if (squares > 0)
                largest = Math.Max(largest, Math.Abs(sum) / Math.Sqrt(squares));
        }
        return largest;
    }
}
