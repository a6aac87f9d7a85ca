using RotationStudy.Statistics.GroupComparison;

namespace RotationStudy.Statistics.Tests.GroupComparison;

public class ChiSquareTestTests
{
    [Fact]
    public void Job_satisfaction_and_convictions_of_twins()
    {
        Check("job_chisq", ChiSquareTest.Of(FisherExactTests.Job));
        Check("twins_plain", ChiSquareTest.Of(new ContingencyTable(2, 2, 2, 10, 15, 3)));
        Check("twins_yates", ChiSquareTest.Of(new ContingencyTable(2, 2, 2, 10, 15, 3), continuityCorrection: true));
    }

    [Fact]
    public void Rows_without_counts_do_not_matter_and_the_smallest_expected_count_is_told()
    {
        ChiSquareTest plain = ChiSquareTest.Of(new ContingencyTable(2, 2, 2, 10, 15, 3));
        ChiSquareTest padded = ChiSquareTest.Of(new ContingencyTable(3, 2, 2, 10, 0, 0, 15, 3));
        Assert.Equal(plain, padded);
        Close.Relative(13 * 12 / 30.0, plain.SmallestExpected, 1e-14);
    }

    [Fact]
    public void The_correction_takes_no_more_than_the_distance_itself()
        => Assert.Equal(0, ChiSquareTest.Of(new ContingencyTable(2, 2, 5, 5, 5, 5), continuityCorrection: true).Test.Statistic);

    [Fact]
    public void Counts_of_two_lists_are_those_of_the_table()
    {
        ContingencyTable table = ContingencyTable.Of(["a", "b", "a", "a"], [1, 1, 2, 1]);
        Assert.Equal((2, 1, 1, 0), (table[0, 0], table[0, 1], table[1, 0], table[1, 1]));
    }

    [Fact]
    public void A_table_with_one_row_a_negative_count_and_a_correction_beyond_two_by_two_are_refused()
    {
        Assert.Throws<InvalidInputError>(() => new ContingencyTable(1, 2, 1, 2));
        Assert.Throws<InvalidInputError>(() => new ContingencyTable(2, 2, 1, 2, 3, -1));
        Assert.Throws<TooFewDataError>(() => ChiSquareTest.Of(new ContingencyTable(2, 2, 1, 2, 0, 0)));
        Assert.Throws<InvalidInputError>(() => ChiSquareTest.Of(FisherExactTests.Job, continuityCorrection: true));
    }

    private static void Check(string id, ChiSquareTest found)
    {
        Close.Relative(Classics.Reference.Number($"{id}/statistic"), found.Test.Statistic, 1e-11, id);
        Close.Relative(Classics.Reference.Number($"{id}/df"), found.Test.DegreesOfFreedom, 0, id);
        Close.Relative(Classics.Reference.Number($"{id}/p"), found.Test.PValue, 1e-10, id);
    }
}
