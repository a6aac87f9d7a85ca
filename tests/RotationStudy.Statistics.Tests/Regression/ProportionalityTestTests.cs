using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class ProportionalityTestTests
{
    private static readonly string[] Satisfaction = ["Low", "Medium", "High"];

    [Fact]
    public void Housing_agrees_with_the_paper_written_out()
    {
        (DesignMatrix x, int[] categories, double[] frequencies, Clusters _) = ProportionalOddsRegressionTests.Housing();
        ReferenceCase reference = ReferenceCase.Read("Ordinal/proportionality");
        ProportionalityResult test = ProportionalityTest.Brant(x, categories, Satisfaction, weights: frequencies);
        Close.Relative(reference.Number("cases/brant/overall"), test.Overall.Statistic, 1e-8);
        Assert.Equal(6, test.Overall.DegreesOfFreedom);
        for (int j = 0; j < 6; j++)
            Close.Relative(reference.Number($"cases/brant/each/{x.Names[j]}"), test.ByColumn[j].Statistic, 1e-7);
        Assert.Equal(["above Low", "above Medium"], test.Cuts);
    }

    [Fact]
    public void Clusters_of_single_rows_come_close_to_the_model_based_test_when_the_model_holds()
    {
        (DesignMatrix x, int[] categories, double[] frequencies, Clusters _) = ProportionalOddsRegressionTests.Housing();
        int[] rows = [.. Enumerable.Range(0, x.Rows).SelectMany(i => Enumerable.Repeat(i, (int)frequencies[i]))];
        DesignMatrix repeated = x.SelectRows(rows);
        int[] repeatedCategories = [.. rows.Select(i => categories[i])];
        double plain = ProportionalityTest.Brant(repeated, repeatedCategories, Satisfaction).Overall.Statistic;
        double robust = ProportionalityTest.Brant(repeated, repeatedCategories, Satisfaction, Clusters.EachRow(rows.Length)).Overall.Statistic;
        Close.Relative(plain, robust, 0.05);
    }

    [Fact]
    public void Two_categories_have_nothing_to_compare()
        => Assert.Throws<TooFewDataError>(() => ProportionalityTest.Brant(DesignMatrix.FromColumns(("a", [1, 2, 3, 4])), [0, 1, 0, 1], ["no", "yes"]));
}
