using RotationStudy.Statistics.Agreement;

namespace RotationStudy.Statistics.Tests.Agreement;

public class WithinSubjectVarianceTests
{
    [Fact]
    public void Pairs_by_hand()
    {
        // Squares about the means: 2, 8, 18 with one degree each; the subject read once says nothing.
        WithinSubjectEstimate found = WithinSubjectVariance.Estimate(
            [0, 2, 10, 14, 20, 26, 99], Clusters.From(new[] { 0, 0, 1, 1, 2, 2, 3 }), Clusters.From(new[] { 0, 0, 1, 1, 2, 2, 3 }));
        double mean = 28.0 / 3;
        Close.Relative(mean, found.Variance, 1e-14);
        double scatter = 1.5 * (Math.Pow(2 - mean, 2) + Math.Pow(8 - mean, 2) + Math.Pow(18 - mean, 2)) / 9;
        Close.Relative(2 * mean * mean / scatter, found.DegreesOfFreedom, 1e-14);
        Assert.Equal((3, 3, 6), (found.Subjects, found.Clusters, found.Readings));
    }

    [Fact]
    public void It_is_the_mean_square_within_of_a_one_way_layout()
    {
        double[] readings = [9, 2, 5, 8, 6, 1, 3, 2, 8, 4, 6, 8, 7, 1, 2, 6, 10, 5, 6, 9, 6, 2, 4, 7];
        Clusters subjects = Clusters.From(Enumerable.Range(0, 24).Select(i => i / 4).ToArray());
        // Shrout and Fleiss 1979, Table 3: 6.26 within targets (recalled).
        WithinSubjectEstimate found = WithinSubjectVariance.Estimate(readings, subjects, subjects);
        Close.Printed(6.26, found.Variance, 2);
        Close.Relative(UnbalancedIntraclassCorrelation.OneWay(readings, subjects).WithinVariance, found.Variance, 1e-12);
    }

    [Fact]
    public void Two_sides_of_a_person_are_one_witness()
    {
        double[] readings = [0, 2, 0, 2, 0, 4, 0, 4, 0, 1, 0, 1];
        Clusters sides = Clusters.From(Enumerable.Range(0, 12).Select(i => i / 2).ToArray());
        Clusters persons = Clusters.From(Enumerable.Range(0, 12).Select(i => i / 4).ToArray());
        WithinSubjectEstimate bySide = WithinSubjectVariance.Estimate(readings, sides, sides);
        WithinSubjectEstimate byPerson = WithinSubjectVariance.Estimate(readings, sides, persons);
        Assert.Equal(bySide.Variance, byPerson.Variance, 12);
        Assert.True(byPerson.DegreesOfFreedom < bySide.DegreesOfFreedom);
    }

    [Fact]
    public void Readings_that_were_not_repeated_are_refused()
        => Assert.Contains("1 clusters hold", Assert.Throws<TooFewDataError>(() => WithinSubjectVariance.Estimate([1, 2, 3], Clusters.From(new[] { 0, 0, 1 }), Clusters.From(new[] { 0, 0, 1 }))).Message, StringComparison.Ordinal);
}
