using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Measures;

/// <summary>Grades from codes, and conversion between methods.</summary>
public class OrdinalGradeTests
{
    private static readonly Place Nowhere = new("test.yaml", 1, 1);

    [Fact]
    public void Unable_is_no_grade_and_keeps_its_reason()
    {
        MeasureColumn grade = Grade([new GradeStep("none", ["free"]), new GradeStep("some", ["painful"])], ["restricted"], "painful", "restricted");
        Assert.Equal(1, grade.Values[0]);
        Assert.Equal("restricted: no grade of the scale", grade.Reason(1));
        Assert.Equal(["none", "some"], grade.Codes.Select(c => c.Code));
    }

    [Fact]
    public void Several_codes_may_share_a_grade()
    {
        MeasureColumn grade = Grade([new GradeStep("low", ["free"]), new GradeStep("high", ["painful", "restricted"])], [], "painful", "restricted");
        Assert.Equal([1.0, 1.0], grade.Values.ToArray());
    }

    [Fact]
    public void A_converted_value_says_the_error_that_conversion_adds()
    {
        // 2 + 0.9 * 20 = 20; 1.96 * 5 = 9.8. The line is invented.
        MeasureColumn converted = new MeasureFixture().Participant("A").Exam("A", "L", 20, 1)
            .Measure(MeasureFixture.Baseline("from", "internal"))
            .Measure(new ConvertedMeasure("to", "to", "degrees", null, null, Nowhere, "from", new MethodRelation("a", "b", 2, 0.9, 5, "test", Evidence.ReadInCopy)))
            .Derive()["to"];
        Assert.Equal(20, converted.Values[0], 12);
        Assert.Contains("±9.8 degrees (95%)", converted.Note, StringComparison.Ordinal);
    }

    private static MeasureColumn Grade(GradeStep[] grades, string[] apart, string left, string right)
        => new MeasureFixture().Participant("A").Exam("A", "L", 1, 1, hip: left).Exam("A", "R", 1, 1, hip: right)
            .Measure(new GradeMeasure(
                "grade", "grade", null, null, null, Nowhere, MeasureFixture.Baseline("grade", "hip", gated: false, reduction: Reduction.First),
                "test scale", [.. grades], [.. apart]))
            .Derive()["grade"];
}
