using RotationStudy.Statistics.GroupComparison;

namespace RotationStudy.Statistics.Tests.GroupComparison;

public class McNemarTests
{
    [Fact]
    public void Approval_ratings_of_Agresti_1990()
    {
        McNemar found = McNemar.Of(150, 86);
        Close.Relative(Classics.Reference.Number("approval_plain/statistic"), found.ChiSquare.Statistic, 1e-12);
        Close.Relative(Classics.Reference.Number("approval_plain/p"), found.ChiSquare.PValue, 1e-10);
        Close.Relative(Classics.Reference.Number("approval_corrected/statistic"), found.ChiSquareWithContinuityCorrection.Statistic, 1e-12);
        Close.Relative(Classics.Reference.Number("approval_corrected/p"), found.ChiSquareWithContinuityCorrection.PValue, 1e-10);
        Close.Relative(Classics.Reference.Number("approval_exact/p"), found.Test.PValue, 1e-10);
        double lower = Classics.Reference.Number("approval_exact/ci/0");
        Close.Relative(lower / (1 - lower), found.Interval.Lower, 1e-9);
        Close.Relative(150.0 / 86, found.OddsRatio, 1e-14);
        Close.Printed(17.36, found.ChiSquare.Statistic, 2);
    }

    [Fact]
    public void Five_pairs_one_way_by_hand()
    {
        // p = 2 / 2^5; the odds ratio is infinite, its lower bound finite.
        McNemar found = McNemar.Of([true, true, true, true, true, false], [false, false, false, false, false, false]);
        Close.Relative(2.0 / 32, found.Test.PValue, 1e-13);
        Assert.Equal(double.PositiveInfinity, found.OddsRatio);
        Assert.True(double.IsFinite(found.Interval.Lower) && double.IsPositiveInfinity(found.Interval.Upper));
    }

    [Fact]
    public void No_discordant_pair_and_unequal_lists_are_refused()
    {
        Assert.Throws<TooFewDataError>(() => McNemar.Of(0, 0));
        Assert.Throws<InvalidInputError>(() => McNemar.Of(-1, 3));
        Assert.Throws<InvalidInputError>(() => McNemar.Of([true], [true, false]));
    }
}
