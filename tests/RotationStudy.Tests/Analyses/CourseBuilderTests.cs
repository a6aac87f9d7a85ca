using System.Text;
using RotationStudy.Report.Files;
using RotationStudy.Report.Html;
using RotationStudy.Study;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Analyses;

/// <summary>Flags, recovery, diaries and changes of scores as results and on the page; participants are invented.</summary>
public class CourseBuilderTests
{
    private const string Signs = "participant_id,visit,side,pain_out_of_proportion,symptom_feeling,symptom_skin,symptom_sweat_swelling,symptom_movement,"
        + "sign_feeling,sign_skin,sign_sweat_swelling,sign_movement,other_explanation\n";

    [Fact]
    public void A_raised_flag_names_person_site_visit_and_side_and_the_others_are_counted()
    {
        CourseResults course = Run(e => e.SetBytes("pain_signs.csv", Text(Signs
            + "A-001,month_12,L,yes,yes,yes,yes,no,yes,yes,no,no,no\n"
            + "A-002,month_12,L,no,no,no,no,no,no,no,no,no,no\n"
            + "B-001,month_12,R,yes,yes,yes,yes,,yes,yes,no,no,no\n"))).Course;
        ClinicalFlagLine line = Assert.Single(course.Flags);
        Assert.Equal(("A-001", "Site A", "12 months", "left"), (line.Participant, line.Site, line.Visit, line.Side));
        ClinicalFlagCount count = Assert.Single(course.FlagCounts);
        Assert.Equal((1, 1, 1), (count.Raised, count.Lowered, count.Open));
    }

    [Fact]
    public void The_flag_stands_on_the_page_before_the_data_quality_with_caution_and_criteria()
    {
        string page = ReportPage.Write(Run(e => e.SetBytes("pain_signs.csv", Text(Signs + "A-001,month_12,L,yes,yes,yes,yes,no,yes,yes,no,no,no\n"))), []);
        Assert.Contains("A flag is no diagnosis, and its absence rules nothing out.", page);
        Assert.Contains("Budapest clinical criteria", page);
        Assert.True(page.IndexOf("id=\"clinical-flags\"", StringComparison.Ordinal) < page.IndexOf("id=\"quality\"", StringComparison.Ordinal));
    }

    [Fact]
    public void Recovery_counts_who_had_the_event_and_gives_no_median_of_too_few()
    {
        ResultTable recovery = Run(_ => { }).Course.Tables.Single(t => t.Id == "recovery");
        string[] weightBearing = [.. recovery.Rows[0].Cells.Select(c => c.Text)];
        Assert.Equal(["Weeks without full weight on the leg", "operation", "<5", "<5", "too few", "", "weeks"], weightBearing);
    }

    [Fact]
    public void Medians_of_recovery_know_who_was_watched_how_long()
    {
        // Six operations on day 100; full weight after 2, 3, 4, 5 weeks; two knees watched to day 800 without it.
        // Kaplan and Meier by hand: 5/6, 4/6, 3/6, 2/6; the curve is level at one half from week 4 to 5, so the median is 4.5.
        (string Person, char Side)[] knees = [("A-001", 'R'), ("A-002", 'L'), ("A-002", 'R'), ("B-001", 'L'), ("B-001", 'R')];
        ResultTable recovery = Run(e =>
        {
            e.RemoveRows("events.csv", "A-001").RemoveRows("milestones.csv", "A-001");
            e.AddRow("events.csv", "C-001,L,1,100,operation,derotation");
            for (int i = 0; i < knees.Length; i++)
            {
                e.AddRow("events.csv", $"{knees[i].Person},{knees[i].Side},1,100,operation,derotation");
                if (i < 4)
                    e.AddRow("milestones.csv", FormattableString.Invariant($"{knees[i].Person},{knees[i].Side},weight_bearing,{114 + (7 * i)}"));
            }
            e.AddRow("milestones.csv", "C-001,L,weight_bearing,142");
        }).Course.Tables.Single(t => t.Id == "recovery");
        // C-001 bears weight after 6 weeks: steps at 2, 3, 4, 5 and 6 weeks, the sixth knee watched 100 weeks.
        Assert.Equal(("6", "5"), (recovery.Rows[0].Cells[2].Text, recovery.Rows[0].Cells[3].Text));
        Assert.StartsWith("4.5 (", recovery.Rows[0].Cells[4].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_protocol_without_such_measures_has_no_such_sections_and_results_read_back()
    {
        StudyResults results = Run(_ => { });
        Assert.Equal(ResultsJson.Write(results), ResultsJson.Write(ResultsJson.Read(ResultsJson.Write(results))));
        string page = ReportPage.Write(results with { Course = CourseResults.None }, []);
        Assert.DoesNotContain("clinical-flags", page);
        Assert.DoesNotContain("id=\"course\"", page);
    }

    private static byte[] Text(string text) => Encoding.UTF8.GetBytes(text);

    private static StudyResults Run(Action<TestExport> change)
    {
        using TestExport export = TestExport.Clean();
        change(export);
        return StudyPipeline.Run(TestExport.Protocol, export.Check(), "test");
    }
}
