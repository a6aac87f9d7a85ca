using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Checks.Declared;

/// <summary>Each kind of declared check on a bad row, and silent on a good one.</summary>
public sealed class DeclaredChecksTests
{
    private const string Exams = "knee_exams.csv";

    [Theory]
    [InlineData("operation_named", "events.csv", 3, "operation_kind", "none", "'event_kind' is 'operation' and 'operation_kind' has 'none'. Please say which operation it was, or correct the kind of event.")]
    [InlineData("open_plates_old", "participants.csv", 2, "age_years", "29", "'age_years' is 29 while 'maturity' is 'open'. Growth plates about the knee have closed by then; please check age and maturity.")]
    [InlineData("hip_arc", Exams, 2, "hip_external_rotation_deg", "110", "'hip_internal_rotation_deg' plus 'hip_external_rotation_deg' comes to 162 (52 and 110). Please look whether one of the two was mistyped or read on the wrong scale.")]
    [InlineData("foot_axes", Exams, 2, "transmalleolar_axis_deg", "58", "'transmalleolar_axis_deg' minus 'thigh_foot_angle_deg' comes to 46 (58 and 12). Both describe the rotation of one shin; please check signs and digits.")]
    [InlineData("body_mass_for_height", "participants.csv", 2, "body_mass_kg", "26", "'body_mass_kg' over the square of 'height_cm' comes to 0.000955 (26 and 165). Please look whether height and mass were exchanged or given in other units.")]
    [InlineData("visits_in_order", "visits.csv", 3, "visit_day", "-5", "'visit_day' goes from 0 (line 2) to -5. Please check the days of both visits.")]
    [InlineData("events_in_order", "events.csv", 3, "event_day", "100", "'event_day' goes from 200 (line 2) to 100. Please check days and numbers of the events.")]
    [InlineData("milestone_after_operation", "milestones.csv", 2, "milestone_day", "300", "Day 300 lies before day 420 of 'operation' in events. Please check the side and day of the milestone and of the operation.")]
    [InlineData("milestone_after_operation", "milestones.csv", 2, "side", "R", "There is no 'operation' in events that it could follow. Please check the side and day of the milestone and of the operation.")]
    public void A_bad_row_is_asked_about(string check, string file, int line, string column, string value, string message)
    {
        using TestExport export = TestExport.Clean();
        Assert.DoesNotContain(export.CheckAll().Findings, f => f.Rule == check && f.Line == line);
        Finding found = Assert.Single(export.Set(file, line, column, value).CheckAll().Findings, f => f.Rule == check && f.Line == line);
        Assert.Equal((file, message, "A-001"), (found.File, found.Message, found.Participant));
    }

    [Fact]
    public void A_side_or_an_examination_that_is_not_there_is_asked_about()
    {
        using TestExport export = TestExport.Clean().RemoveRows(Exams, "A-001,baseline,R").RemoveRows(Exams, "B-001,month_12");
        CheckedRecords records = export.CheckAll();
        Assert.Equal("knee_exams.csv has no usable row of the other side that belongs to this one. Please add the other side, or say that it was not examined.",
            Assert.Single(records.Findings, f => f.Rule == "one_side_only").Message);
        Assert.Equal("B-001", Assert.Single(records.Findings, f => f.Rule == "visit_without_examination").Participant);
    }

    [Fact]
    public void A_side_copied_to_the_other_is_asked_about_and_one_digit_clears_it()
    {
        using TestExport export = TestExport.Clean().SetLine(Exams, 3, "A-001,baseline,R,R1,free,52,41,18,12,21,8,2,yes,small");
        Finding found = Assert.Single(export.CheckAll().Findings, f => f.Rule == "sides_copied");
        Assert.Equal(3, found.Line);
        Assert.DoesNotContain(export.Set(Exams, 3, "hip_internal_rotation_deg", "53").CheckAll().Findings, f => f.Rule == "sides_copied");
    }

    [Fact]
    public void Raters_are_compared_within_one_side_of_one_visit()
    {
        using TestExport export = TestExport.Clean().AddRow(Exams, "A-001,baseline,L,R2,free,83,41,18,12,21,8,2,yes,small");
        Finding found = Assert.Single(export.CheckAll().Findings, f => f.Rule == "raters_differ");
        Assert.Equal("R2 read 83 and R1 read 52 (line 2). Please look at both forms; sides may have been exchanged.", found.Message);
        Assert.DoesNotContain(export.Set(Exams, found.Line, "hip_internal_rotation_deg", "82").CheckAll().Findings, f => f.Rule == "raters_differ");
    }

    [Fact]
    public void A_repeated_examination_is_asked_about_at_its_later_key()
    {
        using TestExport export = TestExport.Clean();
        Finding[] found = [.. export.CheckAll().Findings.Where(f => f.Rule == "examination_repeated")];
        // All eight examinations of the small export say the same: the first is the one that is repeated.
        Assert.Equal(7, found.Length);
        Assert.All(found, f => Assert.EndsWith("(line 2). Was a form entered twice, or carried forward?", f.Message, StringComparison.Ordinal));
    }

    [Fact]
    public void A_stated_score_is_compared_with_its_components_where_all_are_known()
    {
        StatedScoreCheck check = new(
            "score", "score and components differ", Severity.AskTheSite, "laxity", "Please check.", "test", new Place("checks.yaml", 1, 1),
            "knee_right_deg",
            [
                new ScoreComponent("trunk_palms_flat", ComponentTest.Is, double.NaN, "yes"),
                new ScoreComponent("thumb_right", ComponentTest.Is, double.NaN, "yes"),
                new ScoreComponent("little_finger_left_deg", ComponentTest.AtLeast, 95, null),
                new ScoreComponent("elbow_left_deg", ComponentTest.MoreThan, 12, null),
            ]);
        using TestExport export = TestExport.Clean();
        StudyProtocol protocol = TestExport.Protocol with { Checks = [check] };
        export.Set("laxity.csv", 2, "knee_right_deg", "2").Set("laxity.csv", 3, "elbow_left_deg", "NA");
        Finding[] found = [.. RecordChecker.Check(protocol, export.Read()).Findings.Where(f => f.Rule == "score")];
        Assert.DoesNotContain(found, f => f.Line is 2 or 3);
        Assert.Equal("'knee_right_deg' says 5 and its components come to 2. Please check.", found[0].Message);
    }

    [Fact]
    public void A_check_may_set_the_row_aside_and_the_account_says_so()
    {
        StudyProtocol protocol = TestExport.WithChecks;
        protocol = protocol with { Checks = [.. protocol.Checks.Where(c => c.Id == "hip_arc").Select(c => c with { Severity = Severity.SetAside })] };
        using TestExport export = TestExport.Clean().Set(Exams, 2, "hip_external_rotation_deg", "110");
        CheckedRecords records = RecordChecker.Check(protocol, export.Read());
        Assert.Equal(15, records["knee_exams"].Rows);
        Assert.Contains(records.Accounts, a => a.Balances && a.SetAside.Contains(new RuleCount("hip_arc", 1)));
        Assert.Equal("total hip rotation hardly possible", CheckCatalog.Reason("hip_arc", protocol));
    }

    [Fact]
    public void Hips_that_are_not_clear_stand_first_until_a_clinician_clears_them()
    {
        using TestExport export = TestExport.Clean().Set(Exams, 7, "hip_finding", "painful").Set("outcomes.csv", 2, "pain_0_10", "x");
        Finding first = export.CheckAll().Findings[0];
        Assert.Equal(("hip.first", 7), (first.Rule, first.Line));
        Assert.StartsWith("The hip is painful. Examine hip; consider AP and frog-lateral pelvis; defer to local protocol.", first.Message, StringComparison.Ordinal);
        string[] cells = export.Lines(Exams)[6].Split(',');
        export.SetBytes("cleared.csv", System.Text.Encoding.UTF8.GetBytes($"participant_id,visit,side,cleared_day\n{cells[0]},{cells[1]},{cells[2]},9\n"));
        Assert.DoesNotContain(export.CheckAll().Findings, f => f.Rule == "hip.first");
    }
}
