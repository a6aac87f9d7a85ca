using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Measures;

/// <summary>Changes per year worked out by hand; the numbers are invented.</summary>
public class ChangePerYearTests
{
    private static readonly Place Nowhere = new("test.yaml", 1, 1);

    [Fact]
    public void The_change_is_taken_from_the_first_day_to_the_last_with_raters_of_a_day_as_their_mean()
    {
        // Baseline on day 0: (60 + 64) / 2 = 62; month 6 on day 182.625, half a year: 61. (61 - 62) / 0.5 = -2 per year.
        MeasureColumn change = Two(0, 182.625).Exam("A", "L", 60, 30, rater: "R1").Exam("A", "L", 64, 30, rater: "R2")
            .Exam("A", "L", 61, 30, visit: "month_6").Exam("A", "R", 50, 30).Derive()["change"];
        Assert.Equal(-2, change.Values[0], 12);
        Assert.Equal("one reading only", change.Reason(1));
    }

    [Fact]
    public void Readings_too_close_together_give_no_change_per_year()
        => Assert.Equal(
            "readings less than 180 days apart",
            Two(10, 189).Exam("A", "L", 60, 30).Exam("A", "L", 61, 30, visit: "month_6").Derive()["change"].Reason(0));

    [Fact]
    public void A_visit_whose_hip_comes_first_gives_no_reading()
        => Assert.Equal(
            "one reading only",
            Two(0, 200).HipFirst().Exam("A", "L", 60, 30).Exam("A", "L", 61, 30, hip: "painful", visit: "month_6").Derive()["change"].Reason(0));

    [Fact]
    public void The_order_of_the_rows_does_not_matter()
    {
        MeasureColumn change = Two(0, 365.25).Exam("A", "L", 55, 30, visit: "month_6").Exam("A", "L", 60, 30).Derive()["change"];
        Assert.Equal(-5, change.Values[0], 12);
    }

    [Fact]
    public void Readings_may_carry_their_own_day()
    {
        // The running number of an event stands in for a reading: 1 on day 100, 2 on day 830.5, two years later.
        MeasureColumn change = new MeasureFixture().Participant("A").Event("A", "L", 100, "dislocation").Event("A", "L", 830.5, "dislocation")
            .Measure(new ChangePerYearMeasure("change", "change", null, null, null, Nowhere, "events", "number", null, "day", null, null, 180, false))
            .Derive()["change"];
        Assert.Equal(0.5, change.Values[0], 12);
    }

    private static MeasureFixture Two(double baseline, double later)
        => new MeasureFixture().Participant("A").Visit("A", "baseline", baseline).Visit("A", "month_6", later)
            .Measure(new ChangePerYearMeasure("change", "change", null, null, null, Nowhere, "exams", "internal", "visits", "day", null, null, 180, true));
}
