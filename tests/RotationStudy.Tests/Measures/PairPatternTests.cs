using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Measures;

/// <summary>Patterns of two torsions, worked out by hand.</summary>
public class PairPatternTests
{
    private static readonly Place Nowhere = new("test.yaml", 1, 1);

    [Theory]
    [InlineData(20, 30, "usual")]
    [InlineData(10, 25, "usual")] // The ends of a usual range belong to it.
    [InlineData(26, 30, "one")]
    [InlineData(20, 41, "one")]
    [InlineData(26, 41, "compensating")]
    [InlineData(9, 24, "compensating")]
    [InlineData(26, 24, "adding")]
    [InlineData(9, 41, "adding")]
    public void The_pattern_tells_whether_two_torsions_compensate_or_add_up(double first, double second, string pattern)
    {
        MeasureColumn column = new MeasureFixture().Participant("A").Exam("A", "L", first, second).Exam("A", "R", 15, 30)
            .Measure(MeasureFixture.Baseline("femur", "internal")).Measure(MeasureFixture.Baseline("tibia", "external"))
            .Measure(new PairPatternMeasure(
                "pattern", "pattern", null, null, null, Nowhere, "femur", new ValueRange(10, 25), "tibia", new ValueRange(25, 40),
                new PatternLabels("usual", "one", "compensating", "adding")))
            .Derive()["pattern"];
        Assert.Equal(pattern, column.Codes[(int)column.Values[0]].Code);
    }

    [Fact]
    public void A_pattern_needs_both()
    {
        MeasureColumn column = new MeasureFixture().Participant("A").Exam("A", "L", 20, null)
            .Measure(MeasureFixture.Baseline("femur", "internal")).Measure(MeasureFixture.Baseline("tibia", "external"))
            .Measure(new PairPatternMeasure(
                "pattern", "pattern", null, null, null, Nowhere, "femur", new ValueRange(10, 25), "tibia", new ValueRange(25, 40),
                new PatternLabels("usual", "one", "compensating", "adding")))
            .Derive()["pattern"];
        Assert.Equal("not recorded", column.Reason(0));
    }
}
