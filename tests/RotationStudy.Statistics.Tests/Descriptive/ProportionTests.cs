using RotationStudy.Statistics.Descriptive;
using RotationStudy.Statistics.Tests.GroupComparison;

namespace RotationStudy.Statistics.Tests.Descriptive;

public class ProportionTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Both_intervals_are_those_of_the_reference_library(int at)
    {
        int x = (int)Classics.Reference.Number($"wilson/{at}/x");
        int n = (int)Classics.Reference.Number($"wilson/{at}/n");
        Check("wilson", at, Proportion.Wilson(x, n));
        Check("clopper", at, Proportion.ClopperPearson(x, n));
    }

    [Fact]
    public void No_row_and_a_count_over_the_total_are_refused()
    {
        Assert.Throws<TooFewDataError>(() => Proportion.Wilson(0, 0));
        Assert.Throws<InvalidInputError>(() => Proportion.ClopperPearson(5, 4));
        Assert.Throws<InvalidInputError>(() => Proportion.Wilson(1, 4, 95));
    }

    private static void Check(string id, int at, Proportion found)
    {
        Close.Relative(Classics.Reference.Number($"{id}/{at}/ci/0"), found.Interval.Lower, 1e-10, id);
        Close.Relative(Classics.Reference.Number($"{id}/{at}/ci/1"), found.Interval.Upper, 1e-10, id);
    }
}
