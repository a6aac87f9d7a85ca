using RotationStudy.Statistics.GroupComparison;

namespace RotationStudy.Statistics.Tests.GroupComparison;

public class KruskalWallisTests
{
    [Theory]
    [InlineData("mucociliary")]
    [InlineData("plant_kruskal")]
    public void Published_groups_with_and_without_ties(string id)
    {
        TestResult found = KruskalWallis.Test(id == "mucociliary" ? Classics.Mucociliary : Classics.Plants);
        Close.Relative(Classics.Reference.Number($"{id}/statistic"), found.Statistic, 1e-11);
        Close.Relative(Classics.Reference.Number($"{id}/p"), found.PValue, 1e-10);
        Assert.Equal(2, found.DegreesOfFreedom);
    }

    [Fact]
    public void Values_that_are_all_the_same_and_an_empty_group_are_refused()
    {
        Assert.Throws<TooFewDataError>(() => KruskalWallis.Test([[1.0, 1.0], [1.0]]));
        Assert.Throws<TooFewDataError>(() => KruskalWallis.Test([[1.0, 2.0], []]));
    }
}
