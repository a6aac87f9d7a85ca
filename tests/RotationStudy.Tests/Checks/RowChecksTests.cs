using RotationStudy.Study.Checks;

namespace RotationStudy.Tests.Checks;

/// <summary>Rows that contradict each other or belong to nobody, and what holds across tables.</summary>
public sealed class RowChecksTests
{
    [Fact]
    public void Of_rows_that_repeat_each_other_one_is_kept()
    {
        // The second is written differently and says the same.
        using TestExport export = TestExport.Clean()
            .AddRow("outcomes.csv", "A-001,baseline,72.5,3,6")
            .AddRow("outcomes.csv", "A-001,baseline,72.50,3.0,6");
        CheckedRecords records = export.Check();
        Assert.Equal([10, 11], records.Findings.Select(f => f.Line));
        Assert.All(records.Findings, f => Assert.Equal(("row.duplicate", Severity.SetAside), (f.Rule, f.Severity)));
        Assert.Equal("The row of A-001, baseline repeats line 2 in every value. One is kept, this one is set aside.", records.Findings[0].Message);
        RowAccount account = Assert.Single(records.Accounts, a => a.Table == "outcomes");
        Assert.Equal((10, 8, 2), (account.Read, account.Used, account.SetAside[0].Rows));
    }

    [Fact]
    public void Rows_of_one_key_that_differ_are_all_set_aside()
    {
        using TestExport export = TestExport.Clean().AddRow("outcomes.csv", "A-001,baseline,80,3,6");
        CheckedRecords records = export.Check();
        Assert.Equal([2, 10], records.Findings.Select(f => f.Line));
        Assert.All(records.Findings, f => Assert.Equal(
            ("key.conflict", "knee_function_score", "Lines 2, 10 all belong to A-001, baseline and differ, for one in 'knee_function_score'. All are set aside; please say which is right."),
            (f.Rule, f.Column, f.Message)));
        Assert.Equal(7, records["outcomes"].Rows);
    }

    [Fact]
    public void Many_rows_of_one_key_are_named_by_a_few()
    {
        TestExport export = TestExport.Clean();
        for (int i = 0; i < 7; i++)
            export.AddRow("outcomes.csv", $"A-001,baseline,{60 + i},3,6");
        using (export)
        {
            CheckedRecords records = export.Check();
            Assert.Equal(8, records.Findings.Length);
            Assert.StartsWith("Lines 2, 10, 11, 12, 13 and 3 more all belong to A-001, baseline and differ", records.Findings[0].Message, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("A-999", "Participant 'A-999' is not in participants.csv. The row is set aside.")]
    [InlineData("a-001", "Participant 'a-001' is not in participants.csv. Is it 'A-001'? The row is set aside.")]
    [InlineData("A-1", "Participant 'A-1' is not in participants.csv. Is it 'A-001'? The row is set aside.")]
    [InlineData("A-OO1", "Participant 'A-OO1' is not in participants.csv. Is it 'A-001'? The row is set aside.")]
    public void A_row_of_somebody_unknown_is_set_aside(string id, string message)
    {
        using TestExport export = TestExport.Clean().AddRow("events.csv", $"{id},L,1,30,dislocation,none");
        CheckedRecords records = export.Check();
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("participant.unknown", Severity.SetAside, "events.csv", 4, message), (finding.Rule, finding.Severity, finding.File, finding.Line, finding.Message));
        Assert.Equal(2, records["events"].Rows);
    }

    [Fact]
    public void Rows_of_a_participant_whose_own_row_was_set_aside_go_with_it()
    {
        using TestExport export = TestExport.Clean().AddRow("participants.csv", "A-001,B,F,14.2,open,165,58.5,800,study_end,yes");
        CheckedRecords records = export.Check();
        Assert.Equal(3, records["participants"].Rows);
        Assert.Equal(0, records["events"].Rows);
        Assert.Contains(records.Findings, f => f.File == "events.csv" && f.Message == "The row of participant 'A-001' in participants.csv was set aside, so this row has nobody to belong to. The row is set aside.");
        Assert.All(records.Accounts, account => Assert.True(account.Balances));
    }

    [Fact]
    public void A_participant_without_visits_is_asked_about_and_kept()
    {
        TestExport export = TestExport.Clean();
        foreach (string file in new[] { "visits.csv", "knee_exams.csv", "laxity.csv", "outcomes.csv" })
            export.RemoveRows(file, "C-001,");
        using (export)
        {
            CheckedRecords records = export.Check();
            Finding finding = Assert.Single(records.Findings);
            Assert.Equal(("participant.no_visit", Severity.AskTheSite, "participants.csv", 5, "C"), (finding.Rule, finding.Severity, finding.File, finding.Line, finding.Site));
            Assert.StartsWith("Participant 'C-001' has no usable row in visits.csv,", finding.Message, StringComparison.Ordinal);
            Assert.Equal(4, records["participants"].Rows);
        }
    }

    [Fact]
    public void An_event_before_enrolment_is_set_aside()
    {
        using TestExport export = TestExport.Clean().Set("events.csv", 2, "event_day", "-3");
        CheckedRecords records = export.Check();
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("day.before_enrolment", Severity.SetAside, "events.csv", 2, "event_day", "-3"), (finding.Rule, finding.Severity, finding.File, finding.Line, finding.Column, finding.Value));
        Assert.Equal("Day '-3' in 'event_day' lies before enrolment. The row is set aside.", finding.Message);
        Assert.Equal(1, records["events"].Rows);
    }

    [Fact]
    public void A_negative_last_contact_costs_the_value_and_not_the_participant()
    {
        using TestExport export = TestExport.Clean().Set("participants.csv", 3, "last_contact_day", "-1");
        CheckedRecords records = export.Check();
        Assert.Equal("Day '-1' in 'last_contact_day' lies before enrolment. The value is set aside, the row is kept.", Assert.Single(records.Findings).Message);
        Assert.Equal(4, records["participants"].Rows);
    }

    [Fact]
    public void An_image_from_before_enrolment_is_no_finding()
    {
        using TestExport export = TestExport.Clean().Set("imaging.csv", 2, "imaging_day", "-40");
        Assert.Empty(export.Check().Findings);
    }

    [Fact]
    public void An_event_after_the_last_contact_is_asked_about()
    {
        using TestExport export = TestExport.Clean().AddRow("events.csv", "A-002,R,1,900,dislocation,none");
        Finding finding = Assert.Single(export.Check().Findings);
        Assert.Equal(("day.after_last_contact", Severity.AskTheSite, 4, "900"), (finding.Rule, finding.Severity, finding.Line, finding.Value));
        Assert.Equal("Day 900 lies after the last contact with the participant on day 800. Please correct one of them.", finding.Message);
    }

    [Fact]
    public void A_visit_outside_its_window_is_asked_about()
    {
        using TestExport export = TestExport.Clean().Set("visits.csv", 3, "visit_day", "500");
        Finding finding = Assert.Single(export.Check().Findings);
        Assert.Equal(("visit.window", Severity.AskTheSite, "visits.csv", 3, "500", "day 274 to 456"), (finding.Rule, finding.Severity, finding.File, finding.Line, finding.Value, finding.Expected));
    }

    [Fact]
    public void An_examination_at_a_visit_that_is_not_listed_is_asked_about()
    {
        using TestExport export = TestExport.Clean().RemoveRows("visits.csv", "A-002,month_12");
        CheckedRecords records = export.Check();
        Assert.All(records.Findings, f => Assert.Equal(("visit.not_listed", "month_12", "A-002"), (f.Rule, f.Value, f.Participant)));
        Assert.Equal(["knee_exams.csv", "knee_exams.csv", "laxity.csv", "outcomes.csv"], records.Findings.Select(f => f.File));
    }

    [Fact]
    public void No_events_at_all_is_a_note()
    {
        using TestExport export = TestExport.Clean().RemoveRows("events.csv", "A");
        CheckedRecords records = export.Check();
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("table.no_rows", Severity.Note, "events.csv"), (finding.Rule, finding.Severity, finding.File));
        Assert.Equal("events.csv has a header and no rows: nothing was recorded in Events.", finding.Message);
        Assert.False(records.MustStop);
    }

    [Fact]
    public void One_site_only_is_a_note()
    {
        TestExport export = TestExport.Clean();
        foreach (string file in export.Read().Files.Select(f => f.Name))
            export.RemoveRows(file, "B-").RemoveRows(file, "C-");
        using (export)
        {
            CheckedRecords records = export.Check();
            Finding finding = Assert.Single(records.Findings);
            Assert.Equal(("site.only_one", Severity.Note), (finding.Rule, finding.Severity));
            Assert.Equal("All participants come from Site A. The study goes on; sites cannot be compared.", finding.Message);
        }
    }

    [Fact]
    public void Nobody_left_stops()
    {
        TestExport export = TestExport.Clean();
        foreach (string file in export.Read().Files.Select(f => f.Name))
            export.RemoveRows(file, "A-").RemoveRows(file, "B-").RemoveRows(file, "C-");
        using (export)
        {
            CheckedRecords records = export.Check();
            Assert.True(records.MustStop);
            Assert.Contains(records.Findings, f => f.Rule == "roster.empty" && f.Message == "No usable row is left in participants.csv, so there is nobody to analyse.");
        }
    }

    [Fact]
    public void Participants_whose_identifiers_look_alike_are_asked_about()
    {
        using TestExport export = TestExport.Clean().AddRow("participants.csv", "A-01,A,F,14.2,open,165,58.5,800,study_end,yes").AddRow("visits.csv", "A-01,baseline,0");
        CheckedRecords records = export.Check();
        Assert.Equal(2, records.Findings.Count(f => f.Rule == "identifier.look_alike"));
        Assert.Contains(records.Findings, f => f.Message == "The identifiers 'A-001', 'A-01' look alike. Are they different participants?");
    }

    [Fact]
    public void While_a_file_cannot_be_read_the_others_are_checked_by_themselves()
    {
        using TestExport export = TestExport.Clean().RemoveFile("participants.csv").Set("outcomes.csv", 2, "pain_0_10", "many");
        CheckedRecords records = export.Check();
        Assert.Equal(["type.number", "file.missing"], records.Findings.Select(f => f.Rule));
        Assert.True(records.MustStop);
    }
}
