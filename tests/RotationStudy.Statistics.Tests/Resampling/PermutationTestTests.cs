using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Resampling;

public class PermutationTestTests
{
    private static readonly double[] Outcome = [3, 1, 4, 1.5, 9, 2.6, 8, 7];
    private static readonly double[] Second = [0.2, 0.1, 0.4, 0.3, 0.25, 0.22, 0.41, 0.5];

    [Fact]
    public void Random_permutations_come_to_the_share_among_all_orders()
    {
        // All 70 ways to choose the four labelled units, listed here.
        double observed = Math.Abs(Difference(Outcome, [0, 1, 2, 3, 4, 5, 6, 7]));
        int extreme = 0;
        int all = 0;
        for (int mask = 0; mask < 256; mask++)
        {
            if (int.PopCount(mask) != 4)
                continue;
            all++;
            double sum = 0;
            for (int i = 0; i < 8; i++)
                sum += ((mask >> i & 1) == 1 ? 1 : -1) * Outcome[i];
            extreme += Math.Abs(sum / 4) >= observed - 1e-12 ? 1 : 0;
        }
        Assert.Equal(70, all);
        PermutationResult result = Run(20000);
        Assert.InRange(result.PValues[0] - ((double)extreme / all), -0.012, 0.012);
    }

    [Fact]
    public void Adjusted_p_values_are_ordered_single_step_above_step_down_above_unadjusted()
    {
        PermutationResult result = Run(2000);
        for (int j = 0; j < 2; j++)
        {
            Assert.True(result.SingleStep[j] >= result.StepDown[j]);
            Assert.True(result.StepDown[j] >= result.PValues[j]);
        }
        int largest = Math.Abs(result.Observed[0]) >= Math.Abs(result.Observed[1]) ? 0 : 1;
        Assert.Equal(result.SingleStep[largest], result.StepDown[largest]);
    }

    [Fact]
    public void Two_copies_of_one_statistic_cost_nothing()
    {
        PermutationResult result = PermutationTest.Run(["a", "b"], 8, o => [Difference(Outcome, o), Difference(Outcome, o)], new PermutationOptions { Permutations = 500 });
        Assert.Equal(result.PValues, result.SingleStep);
        Assert.Equal(result.PValues, result.StepDown);
    }

    [Fact]
    public void Labels_stay_in_their_block()
    {
        int[] blocks = [0, 1, 0, 1, 0, 1, 0, 1];
        PermutationResult result = PermutationTest.Run(
            ["outside"], 8, order => [order.Where((from, to) => blocks[from] != blocks[to]).Count()], new PermutationOptions { Permutations = 200, Blocks = blocks });
        // The statistic counts labels that left their block: none on the data, and none in any permutation, so all are as extreme.
        Assert.Equal(0, result.Observed[0]);
        Assert.Equal(1, result.PValues[0]);
        PermutationResult free = PermutationTest.Run(
            ["inside"], 8, order => [1 + order.Where((from, to) => blocks[from] == blocks[to]).Count()], new PermutationOptions { Permutations = 200 });
        Assert.True(free.PValues[0] < 1);
    }

    [Fact]
    public void The_number_of_threads_changes_no_byte()
        => Assert.Equal(Run(500, 1).PValues, Run(500, 4).PValues);

    [Fact]
    public void One_unit_is_refused()
        => Assert.Contains("no other", Assert.Throws<TooFewDataError>(() => PermutationTest.Run(["a"], 1, _ => [1.0], new PermutationOptions())).Message, StringComparison.Ordinal);

    private static PermutationResult Run(int permutations, int threads = -1)
        => PermutationTest.Run(["a", "b"], 8, o => [Difference(Outcome, o), 5 * Difference(Second, o)], new PermutationOptions { Permutations = permutations, Seed = 6, Threads = threads });

    private static double Difference(double[] y, IReadOnlyList<int> order)
    {
        double sum = 0;
        for (int i = 0; i < 8; i++)
            sum += (order[i] >= 4 ? 1 : -1) * y[i];
        return sum / 4;
    }
}
