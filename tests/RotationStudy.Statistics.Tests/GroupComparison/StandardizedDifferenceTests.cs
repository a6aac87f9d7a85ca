using RotationStudy.Statistics.GroupComparison;

namespace RotationStudy.Statistics.Tests.GroupComparison;

public class StandardizedDifferenceTests
{
    [Fact]
    public void Continuous_binary_and_category_differences_are_those_of_their_definition()
    {
        Check("continuous", StandardizedDifference.Continuous(Classics.SleepFirst, Classics.SleepSecond));
        Check("binary", StandardizedDifference.Binary(30, 80, 21, 90));
        Check("categories", StandardizedDifference.Categories([10, 20, 30, 5], [15, 12, 40, 9]));
    }

    [Fact]
    public void Two_categories_are_the_size_of_the_binary_difference_and_their_order_does_not_matter()
    {
        StandardizedDifference binary = StandardizedDifference.Binary(21, 90, 30, 80);
        Close.Relative(-binary.Value, StandardizedDifference.Categories([21, 69], [30, 50]).Value, 1e-12);
        Close.Relative(
            StandardizedDifference.Categories([10, 20, 30, 5], [15, 12, 40, 9]).Value,
            StandardizedDifference.Categories([30, 0, 5, 10, 20], [40, 0, 9, 15, 12]).Value,
            1e-12);
    }

    [Fact]
    public void Rescaling_changes_nothing()
        => Close.Relative(
            StandardizedDifference.Continuous(Classics.Term, Classics.Early).Value,
            StandardizedDifference.Continuous([.. Classics.Term.Select(v => (10 * v) + 3)], [.. Classics.Early.Select(v => (10 * v) + 3)]).Value,
            1e-12);

    [Fact]
    public void Groups_that_agree_without_spread_differ_by_zero_and_groups_that_differ_without_spread_are_refused()
    {
        Assert.Equal(0, StandardizedDifference.Continuous([2, 2], [2, 2]).Value);
        Assert.Equal(0, StandardizedDifference.Categories([4, 0], [9, 0]).Value);
        Assert.Contains("do not vary", Assert.Throws<TooFewDataError>(() => StandardizedDifference.Binary(4, 4, 0, 5)).Message, StringComparison.Ordinal);
        Assert.Throws<TooFewDataError>(() => StandardizedDifference.Categories([4, 0], [0, 9]));
        Assert.Throws<TooFewDataError>(() => StandardizedDifference.Continuous([1], [1, 2]));
        Assert.Throws<TooFewDataError>(() => StandardizedDifference.Categories([0, 0], [1, 2]));
    }

    private static void Check(string id, StandardizedDifference found)
    {
        Close.Relative(Classics.Reference.Number($"smd/{id}"), found.Value, 1e-12, id);
        Close.Relative(Classics.Reference.Number($"smd/{id}_ci/0"), found.Interval.Lower, 1e-11, id);
        Close.Relative(Classics.Reference.Number($"smd/{id}_ci/1"), found.Interval.Upper, 1e-11, id);
    }
}
