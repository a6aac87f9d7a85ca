using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class SeparationDetectionTests
{
    [Fact]
    public void Overlapping_groups_are_not_separated()
        => Assert.Empty(SeparationDetection.SeparatedColumns(DesignMatrix.WithIntercept(("a", [1, 2, 3, 4, 5, 6])), [0, 1, 0, 1, 0, 1]));

    [Fact]
    public void A_category_without_events_is_quasi_separation_by_that_category()
        => Assert.Equal(
            ["grade 3"],
            SeparationDetection.SeparatedColumns(
                DesignMatrix.WithIntercept(("grade 2", [0, 0, 1, 1, 0, 0]), ("grade 3", [0, 0, 0, 0, 1, 1]), ("age", [12, 14, 13, 15, 13, 12])), [0, 1, 1, 0, 0, 0]));

    [Fact]
    public void Two_columns_that_separate_only_together_are_both_named()
    {
        // The event happens exactly where a + b > 10.5; neither column alone splits it.
        double[] a = [1, 9, 5, 8, 2, 6, 3, 7, 4, 10];
        double[] b = [9, 1, 5, 3, 8, 5, 9, 2, 7, 2];
        double[] y = [.. a.Zip(b, (u, v) => u + v > 10.5 ? 1.0 : 0)];
        IReadOnlyList<string> named = SeparationDetection.SeparatedColumns(DesignMatrix.WithIntercept(("a", a), ("b", b)), y);
        Assert.Contains("a", named);
        Assert.Contains("b", named);
    }

    [Fact]
    public void One_row_between_the_groups_makes_all_the_difference()
    {
        double[] a = [1, 2, 3, 4, 5, 6];
        Assert.NotEmpty(SeparationDetection.SeparatedColumns(DesignMatrix.WithIntercept(("a", a)), [0, 0, 0, 1, 1, 1]));
        Assert.NotEmpty(SeparationDetection.SeparatedColumns(DesignMatrix.WithIntercept(("a", [1, 2, 3, 3, 5, 6])), [0, 0, 0, 1, 1, 1]));
        Assert.Empty(SeparationDetection.SeparatedColumns(DesignMatrix.WithIntercept(("a", a)), [0, 0, 1, 0, 1, 1]));
    }

    [Fact]
    public void The_programme_agrees_with_all_extreme_directions_on_random_small_data()
    {
        Random random = new(11);
        int separated = 0;
        int overlapping = 0;
        while (separated + overlapping < 400)
        {
            int n = random.Next(6, 20);
            int[] a = [.. Enumerable.Range(0, n).Select(_ => random.Next(4))];
            int[] b = [.. Enumerable.Range(0, n).Select(_ => random.Next(6))];
            int[] y = [.. Enumerable.Range(0, n).Select(i => random.Next(9) < a[i] + b[i] ? 1 : 0)];
            DesignMatrix x = DesignMatrix.WithIntercept(("a", [.. a.Select(v => (double)v)]), ("b", [.. b.Select(v => (double)v)]));
            if (y.Sum() == 0 || y.Sum() == n || !HasFullRank(a, b))
                continue;
            bool exact = IsSeparated(a, b, y);
            Assert.Equal(exact, SeparationDetection.SeparatedColumns(x, [.. y.Select(v => (double)v)]).Count > 0);
            _ = exact ? separated++ : overlapping++;
        }
        Assert.True(separated > 50 && overlapping > 50);
    }

    private static bool HasFullRank(int[] a, int[] b)
        => Enumerable.Range(1, a.Length - 1).Any(i => Enumerable.Range(1, a.Length - 1).Any(k => ((a[i] - a[0]) * (b[k] - b[0])) != ((a[k] - a[0]) * (b[i] - b[0]))));

    // With full rank the cone of separating directions is pointed, so that it holds more than zero only if it holds an extreme
    // ray: a direction on which two rows vanish. All of them are tried, in whole numbers.
    private static bool IsSeparated(int[] a, int[] b, int[] y)
    {
        for (int i = 0; i < a.Length; i++)
        {
            for (int k = 0; k < i; k++)
            {
                (int c, int ca, int cb) = ((a[i] * b[k]) - (b[i] * a[k]), b[i] - b[k], a[k] - a[i]);
                int[] margins = [.. Enumerable.Range(0, a.Length).Select(r => ((2 * y[r]) - 1) * (c + (ca * a[r]) + (cb * b[r])))];
                if (margins.Any(m => m != 0) && (margins.All(m => m >= 0) || margins.All(m => m <= 0)))
                    return true;
            }
        }
        return false;
    }
}
