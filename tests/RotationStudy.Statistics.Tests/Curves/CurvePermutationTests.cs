using RotationStudy.Statistics.Curves;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Curves;

public class CurvePermutationTests
{
    [Fact]
    public void The_p_value_comes_to_the_share_among_all_orders()
    {
        double[] values = [3, 1, 4, 1.5, 9, 2.6, 8, 7];
        bool[] marked = [true, true, true, true, false, false, false, false];
        CurveSet curves = CurveSet.From([0], [.. values.Select(v => (IReadOnlyList<double?>)[v])], Clusters.EachRow(8));
        // All 70 ways to mark four, by Welch's t, which is the statistic where every person has one curve.
        double observed = Math.Abs(Welch(values, marked));
        int extreme = 0, all = 0;
        for (int mask = 0; mask < 256; mask++)
        {
            if (int.PopCount(mask) != 4)
                continue;
            all++;
            extreme += Math.Abs(Welch(values, [.. Enumerable.Range(0, 8).Select(i => (mask >> i & 1) == 1)])) >= observed * (1 - 1e-12) ? 1 : 0;
        }
        CurvePermutationResult found = CurvePermutation.Test(curves, marked, new int[8], new PermutationOptions { Permutations = 20000 });
        Close.Relative(Welch(values, marked), found.Statistic[0], 1e-12);
        Assert.InRange(found.AnyDifference - ((double)extreme / all), -0.012, 0.012);
    }

    [Fact]
    public void A_stretch_that_differs_is_found_and_the_rest_is_not()
    {
        RandomStream random = new(4, "stretch");
        List<double?[]> rows = [];
        List<int> persons = [];
        List<int> sides = [];
        List<bool> marked = [];
        for (int p = 0; p < 40; p++)
        {
            double own = random.Normal();
            for (int side = 0; side < 2; side++)
            {
                double level = own + (0.5 * random.Normal());
                rows.Add([.. Enumerable.Range(0, 6).Select(j => (double?)(level + (p < 20 && j < 2 ? 3 : 0) + (0.3 * random.Normal())))]);
                persons.Add(p);
                sides.Add(side);
                marked.Add(p < 20);
            }
        }
        CurvePermutationResult found = CurvePermutation.Test(
            CurveSet.From([0, 10, 20, 30, 40, 50], rows, Clusters.From(persons)), marked, sides, new PermutationOptions { Permutations = 999 });
        Assert.All(found.Adjusted.Take(2), p => Assert.True(p < 0.01));
        Assert.All(found.Adjusted.Skip(2), p => Assert.True(p > 0.05));
        Assert.Equal(40, found.Exchangeable);
        Assert.Equal(found.Adjusted.Min(), found.AnyDifference);
    }

    [Fact]
    public void Persons_exchange_their_labels_whole()
    {
        // Two knees of a person move together. Were knees exchanged by themselves, a difference between persons would look too sure.
        int rejectedByPerson = 0;
        for (int study = 0; study < 60; study++)
        {
            RandomStream random = new((ulong)study, "whole");
            double?[][] rows = new double?[40][];
            for (int p = 0; p < 20; p++)
            {
                double own = random.Normal();
                rows[2 * p] = [own + (0.1 * random.Normal())];
                rows[(2 * p) + 1] = [own + (0.1 * random.Normal())];
            }
            int[] persons = [.. Enumerable.Range(0, 40).Select(i => i / 2)];
            int[] sides = [.. Enumerable.Range(0, 40).Select(i => i % 2)];
            bool[] marked = [.. persons.Select(p => p < 10)];
            rejectedByPerson += CurvePermutation.Test(CurveSet.From([0], rows, Clusters.From(persons)), marked, sides, new PermutationOptions { Permutations = 199 }).AnyDifference <= 0.05 ? 1 : 0;
        }
        // Binomial(60, 0.05) exceeds 8 with probability 0.003; exchanging knees would reject in about a fifth.
        Assert.InRange(rejectedByPerson, 0, 8);
    }

    [Fact]
    public void Persons_with_one_side_exchange_among_themselves()
    {
        // Persons 0 to 5 have two sides, 6 to 11 the left alone; all marked ones are among the first.
        int[] persons = [0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 7, 8, 9, 10, 11];
        int[] sides = [0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0];
        bool[] marked = [.. persons.Select(p => p < 3)];
        CurveSet curves = CurveSet.From([0], [.. persons.Select((p, i) => (IReadOnlyList<double?>)[p + (0.1 * i % 3)])], Clusters.From(persons));
        CurvePermutationResult found = CurvePermutation.Test(curves, marked, sides, new PermutationOptions { Permutations = 99 });
        Assert.Equal(6, found.Exchangeable);
    }

    [Fact]
    public void What_cannot_be_exchanged_is_refused()
    {
        CurveSet curves = CurveSet.From([0], [[1.0], [2.0], [3.0], [4.0]], Clusters.From(new[] { 0, 0, 1, 1 }));
        PermutationOptions options = new() { Permutations = 9 };
        Assert.Contains("two curves of slot", Assert.Throws<InvalidInputError>(() => CurvePermutation.Test(curves, [true, false, true, false], [0, 0, 0, 1], options)).Message, StringComparison.Ordinal);
        Assert.Contains("nothing can be exchanged", Assert.Throws<TooFewDataError>(() => CurvePermutation.Test(curves, [true, false, true, false], [0, 1, 0, 1], options)).Message, StringComparison.Ordinal);
        Assert.Contains("fewer than two clusters", Assert.Throws<TooFewDataError>(() => CurvePermutation.Test(curves, [true, true, false, false], [0, 1, 0, 1], options)).Message, StringComparison.Ordinal);
    }

    private static double Welch(double[] values, bool[] marked)
    {
        double[] a = [.. values.Where((_, i) => marked[i])];
        double[] b = [.. values.Where((_, i) => !marked[i])];
        return (a.Average() - b.Average()) / Math.Sqrt((Variance(a) / a.Length) + (Variance(b) / b.Length));
    }

    private static double Variance(double[] v) => v.Sum(x => (x - v.Average()) * (x - v.Average())) / (v.Length - 1);
}
