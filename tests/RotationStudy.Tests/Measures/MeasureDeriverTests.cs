using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Measures;

/// <summary>Measures worked out by hand; the numbers are invented.</summary>
public class MeasureDeriverTests
{
    [Fact]
    public void Mid_point_and_width_of_the_rotation_arc_come_from_the_mean_of_two_raters()
    {
        DerivedMeasures measures = Arc(new MeasureFixture().Participant("A")
            .Exam("A", "L", 60, 30, rater: "R1").Exam("A", "L", 64, 34, rater: "R2").Exam("A", "R", 50, 40));
        Assert.Equal([15.0, 5.0], measures["midpoint"].Values.ToArray());
        Assert.Equal([94.0, 90.0], measures["arc"].Values.ToArray());
    }

    [Fact]
    public void The_side_difference_is_this_side_minus_the_other_and_changes_sign_with_the_side()
    {
        DerivedMeasures measures = Arc(new MeasureFixture().Participant("A").Exam("A", "L", 60, 30).Exam("A", "R", 50, 40)
            .Measure(MeasureFixture.Baseline("ir", "internal")).Measure(MeasureFixture.SideDifference("difference", "ir")));
        Assert.Equal([10.0, -10.0], measures["difference"].Values.ToArray());
    }

    [Fact]
    public void The_mean_of_both_sides_belongs_to_the_person_and_needs_both()
    {
        DerivedMeasures measures = Arc(new MeasureFixture().Participant("A").Participant("B").Exam("A", "L", 60, 30).Exam("A", "R", 50, 40).Exam("B", "L", 40, 40)
            .Measure(MeasureFixture.Baseline("ir", "internal")).Measure(MeasureFixture.SideMean("mean", "ir")));
        Assert.Equal(RowLevel.Participant, measures["mean"].Index.Level);
        Assert.Equal(55, measures["mean"].Values[0]);
        Assert.StartsWith("one side: ", measures["mean"].Reason(1));
    }

    [Fact]
    public void A_painful_hip_closes_both_sides_of_its_visit_and_is_listed_first()
    {
        DerivedMeasures measures = Arc(new MeasureFixture().Participant("A").Participant("B").HipFirst()
            .Exam("A", "L", 60, 30, hip: "painful").Exam("A", "R", 50, 40).Exam("B", "L", 55, 35).Exam("B", "R", 55, 35));
        Assert.StartsWith("hip first", measures["midpoint"].Reason(0));
        Assert.StartsWith("hip first", measures["midpoint"].Reason(1));
        Assert.True(measures["midpoint"].HasValue(2));
        HipFirstVisit listed = Assert.Single(measures.HipFirst);
        Assert.Equal("painful", listed.What);
    }

    [Fact]
    public void A_hip_that_nobody_examined_closes_the_visit_too()
    {
        DerivedMeasures measures = Arc(new MeasureFixture().Participant("A").HipFirst().Exam("A", "L", 60, 30, hip: null));
        Assert.Equal("not examined", Assert.Single(measures.HipFirst).What);
        Assert.False(measures["midpoint"].HasValue(0));
    }

    [Fact]
    public void Follow_up_ends_at_the_operation_of_that_side_only()
    {
        DerivedMeasures measures = WithEvents(new MeasureFixture().Participant("A", 700).Event("A", "L", 300, "operation"));
        Assert.Equal([300.0, 700.0], measures["follow_up"].Values.ToArray());
    }

    [Fact]
    public void Events_count_within_follow_up_and_close_reports_are_one_event()
    {
        DerivedMeasures measures = WithEvents(
            new MeasureFixture().Participant("A", 700)
                .Event("A", "L", 0, "dislocation").Event("A", "L", 100, "dislocation").Event("A", "L", 105, "dislocation")
                .Event("A", "L", 120, "dislocation").Event("A", "L", 300, "operation").Event("A", "L", 400, "dislocation"),
            mergeWithinDays: 7);
        Assert.Equal([2.0, 0.0], measures["count"].Values.ToArray());
        Assert.Equal([100.0, 700.0], measures["first_day"].Values.ToArray());
    }

    [Fact]
    public void A_missing_last_contact_is_missing_follow_up_with_its_reason()
    {
        DerivedMeasures measures = WithEvents(new MeasureFixture().Participant("A", null));
        Assert.Equal("last contact not recorded", measures["count"].Reason(0));
    }

    [Fact]
    public void The_order_of_rows_in_the_export_changes_nothing()
    {
        DerivedMeasures forward = Arc(new MeasureFixture().Participant("A").Participant("B").Exam("A", "L", 60, 30).Exam("B", "R", 50, 40));
        DerivedMeasures backward = Arc(new MeasureFixture().Participant("B").Participant("A").Exam("B", "R", 50, 40).Exam("A", "L", 60, 30));
        Assert.Equal(forward["midpoint"].Values.ToArray(), backward["midpoint"].Values.ToArray());
        Assert.Equal(forward["midpoint"].Missing.ToArray(), backward["midpoint"].Missing.ToArray());
    }

    private static DerivedMeasures Arc(MeasureFixture fixture)
        => fixture.Measure(MeasureFixture.Baseline("internal", "internal")).Measure(MeasureFixture.Baseline("external", "external"))
            .Measure(MeasureFixture.Pair("midpoint", PairOperation.HalfDifference, "internal", "external"))
            .Measure(MeasureFixture.Pair("arc", PairOperation.Sum, "internal", "external"))
            .Derive();

    private static DerivedMeasures WithEvents(MeasureFixture fixture, int mergeWithinDays = 0)
        => fixture.Measure(MeasureFixture.FollowUp()).Measure(MeasureFixture.Count(mergeWithinDays)).Measure(MeasureFixture.FirstDay()).Derive();
}
