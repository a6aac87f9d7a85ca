using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>Flags for the clinical team, and what happened beside the questions: recovery, diaries, changes of scores.</summary>
internal static class CourseSection
{
    internal const string FlagsAnchor = "clinical-flags";
    internal const string FlagsTitle = "For the clinical team: pain and other flags";
    internal const string CourseAnchor = "course";
    internal const string CourseTitle = "Recovery, diaries and changes of scores";

    /// <summary>Whether the protocol declares flags.</summary>
    internal static bool HasFlags(StudyResults results) => !results.Course.FlagCounts.IsEmpty;

    /// <summary>Whether there is anything beside the questions.</summary>
    internal static bool HasCourse(StudyResults results) => !results.Course.Tables.IsEmpty;

    internal static void WriteFlags(HtmlWriter page, StudyResults results)
    {
        if (!HasFlags(results))
            return;
        page.Section(FlagsAnchor, FlagsTitle, () =>
        {
            foreach (ClinicalFlagCount flag in results.Course.FlagCounts)
                WriteFlag(page, results, flag);
        });
    }

    internal static void WriteCourse(HtmlWriter page, StudyResults results)
    {
        if (!HasCourse(results))
            return;
        page.Section(CourseAnchor, CourseTitle, () =>
        {
            foreach (ResultTable table in results.Course.Tables)
                QuestionSection.WriteTable(page, table);
        });
    }

    private static void WriteFlag(HtmlWriter page, StudyResults results, ClinicalFlagCount flag)
    {
        ClinicalFlagLine[] raised = [.. results.Course.Flags.Where(f => f.Flag == flag.Flag)];
        page.Open("div", ("class", raised.Length > 0 ? "box stop" : "box"));
        page.Element("p", $"{flag.Flag}: raised for {NumberFormat.Count(flag.Raised)} of {NumberFormat.Count(flag.Raised + flag.Lowered + flag.Open, "form", "forms")}"
            + $"; {NumberFormat.Count(flag.Open)} could not be decided because an answer is missing. A flag is no diagnosis, and its absence rules nothing out.");
        foreach (string advice in raised.Select(f => f.Advice).Distinct(StringComparer.Ordinal))
            page.Element("p", advice);
        page.Close("div");
        if (raised.Length > 0)
        {
            new HtmlTable(
                flag.Flag,
                [results.Study.ParticipantOne, "Site", "Visit", "Side"],
                [.. raised.Select(f => HtmlRow.Of(f.Participant, f.Site, f.Visit, f.Side))]).Write(page);
        }
        if (flag.Source is { } source)
            page.Element("p", $"Criteria: {source}", ("class", "note"));
    }
}
