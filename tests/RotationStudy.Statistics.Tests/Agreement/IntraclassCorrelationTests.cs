using System.Text.Json;
using RotationStudy.Statistics.Agreement;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Agreement;

public class IntraclassCorrelationTests
{
    private static readonly ReferenceCase Case = ReferenceCase.Read("Agreement/shrout_fleiss_1979");
    private static readonly double[][] Judges = [Case.Column("J1"), Case.Column("J2"), Case.Column("J3"), Case.Column("J4")];

    [Fact]
    public void Mean_squares_are_those_of_Shrout_and_Fleiss()
    {
        RatingTable table = RatingTable.From(Judges);
        Close.Relative(Case.Number("cases/icc/BMS"), table.BetweenSubjects, 1e-12);
        Close.Relative(Case.Number("cases/icc/JMS"), table.BetweenRaters, 1e-12);
        Close.Relative(Case.Number("cases/icc/EMS"), table.Residual, 1e-12);
        Close.Relative(Case.Number("cases/icc/WMS"), table.WithinSubjects, 1e-12);
        Close.Printed(Case.Number("published/BMS"), table.BetweenSubjects, 2);
        Close.Printed(Case.Number("published/JMS"), table.BetweenRaters, 2);
    }

    [Fact]
    public void All_six_forms_with_intervals_and_tests_are_those_of_the_reference_library()
    {
        IReadOnlyList<IntraclassEstimate> found = IntraclassCorrelation.All(RatingTable.From(Judges));
        for (int i = 0; i < 6; i++)
        {
            string what = found[i].Form.ToString();
            Close.Relative(Case.Number($"cases/icc/icc/{i}"), found[i].Value, 1e-12, what);
            Close.Relative(Case.Number($"cases/icc/lower95/{i}"), found[i].Interval.Lower, 1e-8, what + " lower");
            Close.Relative(Case.Number($"cases/icc/upper95/{i}"), found[i].Interval.Upper, 1e-8, what + " upper");
            Close.Relative(Case.Number($"cases/icc/F/{i}"), found[i].Test.Statistic, 1e-12, what + " F");
            Close.Relative(Case.Number($"cases/icc/p/{i}"), found[i].Test.PValue, 1e-10, what + " p");
        }
    }

    [Theory]
    [InlineData(IntraclassForm.OneWaySingle, "ICC11")]
    [InlineData(IntraclassForm.AgreementSingle, "ICC21")]
    [InlineData(IntraclassForm.ConsistencySingle, "ICC31")]
    [InlineData(IntraclassForm.OneWayAverage, "ICC14")]
    [InlineData(IntraclassForm.AgreementAverage, "ICC24")]
    [InlineData(IntraclassForm.ConsistencyAverage, "ICC34")]
    public void The_printed_values_of_1979_come_out(IntraclassForm form, string printed)
        => Close.Printed(Case.Number("published/" + printed), IntraclassCorrelation.Estimate(RatingTable.From(Judges), form).Value, 2);

    [Fact]
    public void Another_unit_and_origin_change_nothing_and_a_shift_of_one_rater_changes_agreement_only()
    {
        RatingTable table = RatingTable.From(Judges);
        RatingTable rescaled = RatingTable.From(Judges.Select(j => j.Select(v => 32 - (1.8 * v)).ToArray()).ToArray());
        RatingTable shifted = RatingTable.From([.. Judges.Select((j, k) => j.Select(v => k == 0 ? v + 5 : v).ToArray())]);
        foreach (IntraclassForm form in Enum.GetValues<IntraclassForm>())
            Close.Relative(IntraclassCorrelation.Estimate(table, form).Value, IntraclassCorrelation.Estimate(rescaled, form).Value, 1e-12);
        Close.Relative(IntraclassCorrelation.Estimate(table, IntraclassForm.ConsistencySingle).Value, IntraclassCorrelation.Estimate(shifted, IntraclassForm.ConsistencySingle).Value, 1e-12);
        Assert.True(IntraclassCorrelation.Estimate(shifted, IntraclassForm.AgreementSingle).Value < IntraclassCorrelation.Estimate(table, IntraclassForm.AgreementSingle).Value);
    }

    [Fact]
    public void Perfect_agreement_is_one_with_an_interval_of_one()
    {
        IReadOnlyList<IntraclassEstimate> all = IntraclassCorrelation.All(RatingTable.From([1.1, 2.3, 3.7], [1.1, 2.3, 3.7]));
        Assert.All(all, e => Assert.Equal(1, e.Value));
        Assert.All(all, e => Assert.Equal(new ConfidenceInterval(1, 1, 0.95), e.Interval));
    }

    [Fact]
    public void Raters_that_differ_by_a_constant_agree_in_consistency_but_not_in_agreement()
    {
        RatingTable table = RatingTable.From([1, 2, 3, 4], [3, 4, 5, 6]);
        Assert.Equal(1, IntraclassCorrelation.Estimate(table, IntraclassForm.ConsistencySingle).Value);
        // Between mean square 10/3, rater mean square 8, residual 0: (10/3) / (10/3 + 2 * 8 / 4).
        IntraclassEstimate agreement = IntraclassCorrelation.Estimate(table, IntraclassForm.AgreementSingle);
        Close.Relative(10.0 / 22, agreement.Value, 1e-12);
        Assert.InRange(agreement.Interval.Lower, 0, agreement.Value);
        Assert.InRange(agreement.Interval.Upper, agreement.Value, 1);
    }

    [Fact]
    public void Ratings_without_variance_single_subjects_and_single_raters_are_refused()
    {
        Assert.Contains("all ratings are equal", Assert.Throws<TooFewDataError>(() => IntraclassCorrelation.All(RatingTable.From([0.1, 0.1, 0.1], [0.1, 0.1, 0.1]))).Message, StringComparison.Ordinal);
        Assert.Contains("1 subject", Assert.Throws<TooFewDataError>(() => RatingTable.From([2.0], [3.0])).Message, StringComparison.Ordinal);
        Assert.Contains("1 rater", Assert.Throws<TooFewDataError>(() => RatingTable.From([2.0, 3.0])).Message, StringComparison.Ordinal);
        Assert.Equal(1, Assert.Throws<InvalidInputError>(() => RatingTable.From([2.0, double.NaN], [3.0, 4.0])).Row);
    }

    [Fact]
    public void Equal_numbers_of_ratings_make_the_unbalanced_estimate_the_one_way_form()
    {
        double[] ratings = [.. Judges.SelectMany(j => j)];
        int[] subjects = [.. Judges.SelectMany(j => Enumerable.Range(0, j.Length))];
        UnbalancedIntraclassEstimate found = UnbalancedIntraclassCorrelation.OneWay(ratings, Clusters.From(subjects));
        Close.Relative(4, found.EffectiveRatings, 1e-13);
        Close.Relative(Case.Number("cases/icc/icc/0"), found.Value, 1e-12);
        Close.Relative(Case.Number("cases/icc/lower95/0"), found.Interval.Lower, 1e-8);
        Close.Relative(found.Value, UnbalancedIntraclassCorrelation.FromComponents(found.BetweenVariance, found.WithinVariance), 1e-12);
    }

    [Fact]
    public void Unequal_numbers_of_ratings_by_hand()
    {
        // Subjects {1, 3}, {5}, {6, 7, 8}: N = 6, sum of squares 14, n0 = (6 - 14/6)/2 = 11/6.
        // Means 2, 5, 7, grand 5: between 2*9 + 0 + 3*4 = 30 on 2 df; within 2 + 0 + 2 = 4 on 3 df.
        UnbalancedIntraclassEstimate found = UnbalancedIntraclassCorrelation.OneWay([1, 3, 5, 6, 7, 8], Clusters.From([1, 1, 2, 3, 3, 3]));
        Close.Relative(11.0 / 6, found.EffectiveRatings, 1e-14);
        Close.Relative(4.0 / 3, found.WithinVariance, 1e-14);
        Close.Relative((15 - (4.0 / 3)) / (11.0 / 6), found.BetweenVariance, 1e-14);
        Close.Relative(11.25, found.Test.Statistic, 1e-14);
    }

    [Fact]
    public void Measurement_error_has_its_chi_square_interval()
    {
        RatingTable table = RatingTable.From(Judges);
        MeasurementErrorEstimate consistency = MeasurementError.Consistency(table);
        Close.Relative(Math.Sqrt(table.Residual), consistency.StandardErrorOfMeasurement, 1e-14);
        Close.Relative(1.959963984540054 * Math.Sqrt(2 * table.Residual), consistency.SmallestDetectableChange, 1e-12);
        // 15 df: chi-square quantiles 6.262137795 and 27.48839286 (mpmath).
        Close.Relative(Math.Sqrt(table.Residual * 15 / 27.4883928634430), consistency.StandardErrorInterval.Lower, 1e-10);
        Close.Relative(Math.Sqrt(table.Residual * 15 / 6.26213779504325), consistency.StandardErrorInterval.Upper, 1e-10);
        MeasurementErrorEstimate agreement = MeasurementError.Agreement(table);
        Close.Relative(Math.Sqrt(table.WithinSubjects), agreement.StandardErrorOfMeasurement, 1e-13);
        Assert.InRange(agreement.DegreesOfFreedom, 3, 18);
    }

    [Fact]
    public void Three_raters_of_the_cohort_give_the_values_of_the_reference_library()
    {
        double[][] raters = [.. Enumerable.Range(0, 3).Select(j => Peers.Cohort.Raters.Select(r => r[j]).ToArray())];
        IReadOnlyList<IntraclassEstimate> found = IntraclassCorrelation.All(RatingTable.From(raters));
        JsonElement expected = Peers.Estimates("icc_3raters");
        for (int i = 0; i < 6; i++)
        {
            Close.Relative(expected.GetProperty("icc")[i].GetDouble(), found[i].Value, 1e-10);
            Close.Relative(expected.GetProperty("lower")[i].GetDouble(), found[i].Interval.Lower, 1e-8);
            Close.Relative(expected.GetProperty("upper")[i].GetDouble(), found[i].Interval.Upper, 1e-8);
        }
    }

    [Fact]
    public void The_generalized_interval_is_the_quantiles_of_its_definition()
    {
        RatingTable table = RatingTable.From(Judges);
        ConfidenceInterval found = GeneralizedIntraclassInterval.Agreement(table);
        const int Draws = 200000;
        RandomStream random = new(12, "generalized");
        int below = 0;
        int above = 0;
        for (int i = 0; i < Draws; i++)
        {
            double b = 5 * table.BetweenSubjects / random.ChiSquared(5);
            double j = 3 * table.BetweenRaters / random.ChiSquared(3);
            double e = 15 * table.Residual / random.ChiSquared(15);
            double r = (b - e) / 4 / (((b - e) / 4) + ((j - e) / 6) + e);
            below += r <= found.Lower ? 1 : 0;
            above += r > found.Upper ? 1 : 0;
        }
        // Monte-Carlo standard error 0.00035.
        Assert.InRange(below / (double)Draws, 0.0234, 0.0266);
        Assert.InRange(above / (double)Draws, 0.0234, 0.0266);
    }

    [Fact]
    public void Complete_ratings_make_the_mixed_model_the_analysis_of_variance()
    {
        (double[] ratings, Clusters subjects, Clusters raters) = Stacked();
        MixedIntraclassEstimate found = MixedIntraclassCorrelation.Estimate(ratings, subjects, raters);
        Close.Relative(Case.Number("cases/icc/icc/1"), found.Agreement, 1e-6);
        Close.Relative(Case.Number("cases/icc/icc/2"), found.Consistency, 1e-6);
        Assert.Empty(found.BoundaryTerms);
    }

    [Fact]
    public void A_missing_rating_is_allowed_and_subjects_are_resampled_whole()
    {
        (double[] ratings, Clusters subjects, Clusters raters) = Stacked();
        int[] kept = [.. Enumerable.Range(0, ratings.Length).Where(i => i != 7)];
        double[] some = [.. kept.Select(i => ratings[i])];
        MixedIntraclassEstimate found = MixedIntraclassCorrelation.Estimate(some, subjects.SelectRows(kept), raters.SelectRows(kept));
        Assert.Equal(23, found.Ratings);
        Assert.InRange(found.Consistency, found.Agreement, 1);
        BootstrapOptions options = new() { Replicates = 60, Seed = 3, LargestFailureShare = 0.3 };
        BootstrapResult bootstrap = MixedIntraclassCorrelation.Bootstrap(some, subjects.SelectRows(kept), raters.SelectRows(kept), options);
        Assert.Equal(found.Agreement, bootstrap.Original(0), 8);
        Assert.Equal(60, bootstrap.Replicates + bootstrap.Failures);
    }

    private static (double[] Ratings, Clusters Subjects, Clusters Raters) Stacked()
        => ([.. Judges.SelectMany(j => j)],
            Clusters.From([.. Judges.SelectMany(j => Enumerable.Range(0, j.Length))]),
            Clusters.From([.. Judges.SelectMany((j, k) => Enumerable.Repeat(k, j.Length))]));
}
