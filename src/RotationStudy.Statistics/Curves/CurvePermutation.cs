using System.Globalization;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Curves;

/// <summary>Where two groups of curves differ, with the error rate of the whole grid held.</summary>
/// <param name="Grid">The grid.</param>
/// <param name="Statistic">Difference over its standard error by cluster, marked less others, at each point.</param>
/// <param name="PValues">Each point by itself.</param>
/// <param name="Adjusted">Adjusted by the largest |t| over the grid, single step: the probability that chance gives so large a value anywhere.</param>
/// <param name="StepDown">Adjusted by the step-down maximum.</param>
/// <param name="AnyDifference">P value of no difference anywhere: the smallest adjusted one.</param>
/// <param name="Permutations">Number of permutations.</param>
/// <param name="Exchangeable">Clusters that can exchange labels with another of their pattern.</param>
public sealed record CurvePermutationResult(
    IReadOnlyList<double> Grid, IReadOnlyList<double> Statistic, IReadOnlyList<double> PValues,
    IReadOnlyList<double> Adjusted, IReadOnlyList<double> StepDown, double AnyDifference, int Permutations, int Exchangeable);

/// <summary>Permutation test of two groups of curves with the largest statistic over the grid.</summary>
/// <remarks>
/// <para>Labels are exchanged between clusters (persons), never between curves of one: a cluster hands on the labels of all its
/// curves together, slot by slot (left to left, right to right), to a cluster that has the same slots. The statistic of a
/// point is the difference of means over its standard error by cluster, computed anew in every permutation, so that groups of
/// unequal spread keep the level in large samples. Persons are exchangeable under the hypothesis that labels say nothing.</para>
/// <para>A relabelling in which a group has fewer than two clusters at a point, because of gaps, gives zero there.</para>
/// <para><b>Sources.</b> Westfall PH, Young SS, Resampling-based Multiple Testing, 1993; Nichols TE, Holmes AP, Hum Brain Mapp
/// 2002;15:1-25 (largest statistic over a grid); Janssen A, Stat Probab Lett 1997;36:9-21 (studentised permutation);
/// Winkler AM et al., NeuroImage 2015;123:253-268 (blocks exchanged whole). <b>Checked against</b> all orders of a small case in
/// the tests, and the level by simulation.</para>
/// </remarks>
public static class CurvePermutation
{
    /// <summary>Runs the test.</summary>
    /// <param name="curves">All curves.</param>
    /// <param name="marked">Which belong to the first group.</param>
    /// <param name="slots">What a curve is within its cluster, such as the side; a cluster has each slot once.</param>
    /// <param name="options">Permutations, seed, stream, threads.</param>
    /// <exception cref="InvalidInputError">A cluster with two curves of one slot.</exception>
    /// <exception cref="TooFewDataError">A group with fewer than two clusters at a point, or no two clusters of the same slots with different labels.</exception>
    public static CurvePermutationResult Test(CurveSet curves, IReadOnlyList<bool> marked, IReadOnlyList<int> slots, PermutationOptions options)
    {
        Require.SameLength(marked.Count, curves.Rows, "groups");
        Require.SameLength(slots.Count, curves.Rows, "slots");
        int[][] members = Members(curves.Clusters, slots);
        int[] blocks = Blocks(members, slots);
        bool[] labels = [.. marked];
        double[] observed = Statistics(curves, labels) ?? throw new TooFewDataError(
            "a group has fewer than two clusters at a point", "Leave the point out, or find more.");
        int exchangeable = Exchangeable(members, blocks, labels);
        if (exchangeable == 0)
            throw new TooFewDataError("no two clusters of the same slots differ in their labels, so nothing can be exchanged", "Compare persons who have the same sides recorded.");
        string[] names = [.. curves.Grid.Select(g => g.ToString(CultureInfo.InvariantCulture))];
        PermutationResult result = PermutationTest.Run(names, members.Length, order => Relabelled(curves, members, labels, order), options with { Blocks = blocks });
        return new CurvePermutationResult(
            [.. curves.Grid], observed, result.PValues, result.SingleStep, result.StepDown, result.SingleStep.Min(), result.Permutations, exchangeable);
    }

    /// <summary>Curves of each cluster in the order of their slots.</summary>
    private static int[][] Members(Clusters clusters, IReadOnlyList<int> slots)
    {
        int[][] members = new int[clusters.Count][];
        for (int g = 0; g < members.Length; g++)
        {
            members[g] = [.. clusters.Members(g)];
            Array.Sort(members[g], (a, b) => slots[a].CompareTo(slots[b]));
            for (int k = 1; k < members[g].Length; k++)
            {
                if (slots[members[g][k]] == slots[members[g][k - 1]])
                    throw new InvalidInputError($"cluster {g} has two curves of slot {slots[members[g][k]]}", "Average repeated curves first.", members[g][k], "slots");
            }
        }
        return members;
    }

    private static int[] Blocks(int[][] members, IReadOnlyList<int> slots)
    {
        Dictionary<string, int> known = new(StringComparer.Ordinal);
        return Array.ConvertAll(members, rows =>
        {
            string pattern = string.Join(',', rows.Select(r => slots[r].ToString(CultureInfo.InvariantCulture)));
            if (!known.TryGetValue(pattern, out int block))
                known.Add(pattern, block = known.Count);
            return block;
        });
    }

    /// <summary>Clusters in blocks whose labels are not all the same.</summary>
    private static int Exchangeable(int[][] members, int[] blocks, bool[] labels)
        => Enumerable.Range(0, members.Length)
            .GroupBy(g => blocks[g])
            .Where(block => block.Select(g => string.Concat(members[g].Select(r => labels[r] ? '1' : '0'))).Distinct(StringComparer.Ordinal).Count() > 1)
            .Sum(block => block.Count());

    private static double[] Relabelled(CurveSet curves, int[][] members, bool[] labels, IReadOnlyList<int> order)
    {
        bool[] exchanged = new bool[labels.Length];
        for (int g = 0; g < members.Length; g++)
        {
            int[] from = members[order[g]];
            for (int k = 0; k < from.Length; k++)
                exchanged[members[g][k]] = labels[from[k]];
        }
        return Statistics(curves, exchanged) ?? StatisticsWithGaps(curves, exchanged);
    }

    /// <summary>Difference over standard error at each point; null where a group has fewer than two clusters at one.</summary>
    private static double[]? Statistics(CurveSet curves, bool[] labels)
    {
        double[] t = StatisticsWithGaps(curves, labels, out bool gap);
        return gap ? null : t;
    }

    private static double[] StatisticsWithGaps(CurveSet curves, bool[] labels) => StatisticsWithGaps(curves, labels, out _);

    private static double[] StatisticsWithGaps(CurveSet curves, bool[] labels, out bool gap)
    {
        GroupInfluence first = GroupInfluence.Of(curves, labels);
        GroupInfluence second = GroupInfluence.Of(curves, Array.ConvertAll(labels, l => !l));
        double[] t = new double[curves.Points];
        gap = false;
        for (int j = 0; j < t.Length; j++)
        {
            if (first.ClusterCount[j] < 2 || second.ClusterCount[j] < 2)
            {
                gap = true;
                continue;
            }
            double squares = 0;
            for (int g = 0; g < curves.Clusters.Count; g++)
            {
                double psi = (first.Factor(j) * first.Of(g, j)) - (second.Factor(j) * second.Of(g, j));
                squares += psi * psi;
            }
            t[j] = squares > 0 ? (first.Mean[j] - second.Mean[j]) / Math.Sqrt(squares) : 0;
        }
        return t;
    }
}
