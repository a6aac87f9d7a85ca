using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Measures;

/// <summary>Z scores and centiles worked out by hand. Values of the normal distribution: any table, such as Fisher and Yates, table I.</summary>
public class NormReadingTests
{
    private static readonly Place Nowhere = new("test.yaml", 1, 1);

    // Staheli and others 1985 (J Bone Joint Surg Am 67:39-47), as in the shipped norm: mean 45, printed range 15 to 65.
    private static readonly Norm Pooled = new(
        "pooled", "Pooled", "", "degrees", null, "test", [],
        [new NormRow(null, 10, 70, 45, NormSpread.TwoStandardDeviationRange, 15, 65, null, Evidence.ByArithmetic)], Nowhere);

    private static readonly Norm BySex = new(
        "by_sex", "By sex", "", "degrees", null, "test", [],
        [
            new NormRow("M", 10, 20, 50, NormSpread.StandardDeviation, 30, 70, null, Evidence.ReadInCopy),
            new NormRow("F", 10, 20, 40, NormSpread.StandardDeviation, 20, 60, null, Evidence.ReadInCopy),
        ],
        Nowhere);

    [Fact]
    public void Each_arm_of_a_printed_range_stands_for_two_standard_deviations_of_its_own_side()
    {
        // Above the mean: (57 - 45) / ((65 - 45) / 2) = 1.2. Below: (30 - 45) / ((45 - 15) / 2) = -1.
        MeasureColumn z = Read(NormUse.ZScore, Pooled, 57, 30)["read"];
        Assert.Equal([1.2, -1.0], z.Values.ToArray());
    }

    [Fact]
    public void The_ends_of_the_printed_range_have_z_scores_of_two()
        => Assert.Equal([2.0, -2.0], Read(NormUse.ZScore, Pooled, 65, 15)["read"].Values.ToArray());

    [Fact]
    public void A_centile_is_the_lower_tail_of_the_z_score()
    {
        // Lower tails of 1.2 and -1: 0.88493 and 0.15866.
        MeasureColumn centile = Read(NormUse.Centile, Pooled, 57, 30)["read"];
        Assert.Equal(88.493, centile.Values[0], 3);
        Assert.Equal(15.866, centile.Values[1], 3);
    }

    [Fact]
    public void The_difference_from_the_norm_is_the_value_minus_its_mean()
        => Assert.Equal([12.0, -15.0], Read(NormUse.Difference, Pooled, 57, 30)["read"].Values.ToArray());

    [Fact]
    public void The_position_counts_the_ends_of_the_range_as_within()
    {
        Assert.Equal([1.0, 1.0], Read(NormUse.Position, Pooled, 65, 15)["read"].Values.ToArray());
        Assert.Equal([2.0, 0.0], Read(NormUse.Position, Pooled, 65.5, 14.5)["read"].Values.ToArray());
    }

    [Fact]
    public void A_person_outside_the_ages_of_the_norm_gets_a_reason_and_no_number()
    {
        MeasureColumn z = Read(NormUse.ZScore, Pooled, 57, 30, age: 9.9)["read"];
        Assert.False(z.HasValue(0));
        Assert.Equal("the norm covers ages 10 to under 70 years only", z.Reason(0));
        Assert.Contains("2 values lie outside the ages or sexes of the norm", z.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void A_position_outside_the_ages_is_a_group_of_its_own()
    {
        MeasureColumn position = Read(NormUse.Position, Pooled, 57, 30, age: 70)["read"];
        Assert.Equal("outside the ages of the norm", position.Codes[(int)position.Values[0]].Meaning);
    }

    [Fact]
    public void Sex_chooses_the_row()
    {
        // 50 degrees: (50 - 50) / 10 = 0 in males, (50 - 40) / 10 = 1 in females.
        Assert.Equal([0.0, 0.0], Read(NormUse.ZScore, BySex, 50, 50, sex: "M")["read"].Values.ToArray());
        Assert.Equal([1.0, 1.0], Read(NormUse.ZScore, BySex, 50, 50, sex: "F")["read"].Values.ToArray());
    }

    [Fact]
    public void Without_an_age_there_is_no_reading_and_the_reason_names_the_age()
        => Assert.Equal("age: not recorded", Read(NormUse.ZScore, Pooled, 57, 30, age: null)["read"].Reason(0));

    [Fact]
    public void The_day_of_the_reading_makes_the_person_older()
    {
        // 9.5 years at enrolment and 365.25 days later: 10.5 years, inside a norm from 10 years on.
        MeasureFixture fixture = new MeasureFixture().Participant("A", lastContact: 365.25, age: 9.5).Exam("A", "L", 57, 30).Exam("A", "R", 30, 30).Norm(Pooled)
            .Measure(MeasureFixture.Person("age")).Measure(MeasureFixture.Person("last_contact")).Measure(MeasureFixture.Baseline("ir", "internal"))
            .Measure(new NormMeasure("now", "now", null, null, null, Nowhere, NormUse.ZScore, "ir", "pooled", "age", null, "last_contact"))
            .Measure(new NormMeasure("then", "then", null, null, null, Nowhere, NormUse.ZScore, "ir", "pooled", "age", null, null));
        DerivedMeasures measures = fixture.Derive();
        Assert.True(measures["now"].HasValue(0));
        Assert.False(measures["then"].HasValue(0));
    }

    [Fact]
    public void A_range_of_values_seen_makes_no_z_score()
    {
        NormRow seen = new(null, 4, 17, -1.5, NormSpread.ObservedRange, -3.1, -0.2, 30, Evidence.ReadInCopy);
        Assert.Throws<InvalidOperationException>(() => seen.ZScore(-2));
    }

    private static DerivedMeasures Read(NormUse use, Norm norm, double left, double right, double? age = 15, string sex = "F")
        => new MeasureFixture().Participant("A", age: age, sex: sex).Exam("A", "L", left, 30).Exam("A", "R", right, 30).Norm(norm)
            .Measure(MeasureFixture.Person("age")).Measure(MeasureFixture.Person("sex")).Measure(MeasureFixture.Baseline("ir", "internal"))
            .Measure(new NormMeasure("read", "read", null, null, null, Nowhere, use, "ir", norm.Id, "age", "sex", null))
            .Derive();
}
