using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Measures;

/// <summary>A test read beside the other knee, worked out by hand.</summary>
public class SideReadingTests
{
    private static readonly Place Nowhere = new("test.yaml", 1, 1);

    [Theory]
    [InlineData(1, 1, "negative", "negative")]
    [InlineData(2, 1, "positive, other side negative", "negative")]
    [InlineData(2, 2, "positive on both sides", "positive on both sides")]
    [InlineData(4, 3, "positive on both sides, this side more", "positive on both sides")]
    public void A_glide_that_is_positive_on_both_sides_is_marked_so(double left, double right, string readsLeft, string readsRight)
    {
        MeasureColumn reading = Glide(left, right)["reading"];
        Assert.Equal([readsLeft, readsRight], reading.Values.Select(v => reading.Codes[(int)v].Code));
    }

    [Fact]
    public void Exchanging_the_sides_exchanges_the_readings()
        => Assert.Equal(Glide(3, 1)["reading"].Values.Reverse(), Glide(1, 3)["reading"].Values);

    [Fact]
    public void A_positive_test_without_the_other_side_is_not_read()
    {
        MeasureColumn reading = Glide(3, null)["reading"];
        Assert.Equal("positive, but the other side was not examined", reading.Reason(0));
        Assert.Equal("not recorded", reading.Reason(1));
    }

    [Fact]
    public void A_negative_test_needs_no_other_side() => Assert.Equal(0, Glide(1, null)["reading"].Values[0]);

    [Fact]
    public void How_many_are_positive_on_both_sides_is_said()
        => Assert.Contains("2 sides are positive on both sides", Glide(3, 3)["reading"].Note, StringComparison.Ordinal);

    [Fact]
    public void A_code_may_be_the_positive_one()
    {
        MeasureColumn reading = new MeasureFixture().Participant("A").Exam("A", "L", 1, 1, hip: "painful").Exam("A", "R", 1, 1, hip: "free")
            .Measure(MeasureFixture.Baseline("sign", "hip", gated: false, reduction: Reduction.First))
            .Measure(new SideReadingMeasure("reading", "reading", null, null, null, Nowhere, new ScoreComponent("sign", ComponentTest.Is, double.NaN, "painful"), null))
            .Derive()["reading"];
        Assert.Equal([3.0, 0.0], reading.Values.ToArray());
    }

    private static DerivedMeasures Glide(double? left, double? right)
        => new MeasureFixture().Participant("A").Exam("A", "L", left, 1).Exam("A", "R", right, 1)
            .Measure(MeasureFixture.Baseline("glide", "internal"))
            .Measure(new SideReadingMeasure("reading", "reading", null, null, null, Nowhere, new ScoreComponent("glide", ComponentTest.AtLeast, 2, null), 1))
            .Derive();
}
