using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>What the plan asks and these data cannot give; nothing where the plan can be carried out.</summary>
internal static class PlanFaultsSection
{
    internal static void Write(HtmlWriter page, StudyResults results)
    {
        if (results.PlanFaults.IsEmpty)
            return;
        page.Section("plan-faults", "Where the plan and these data do not fit", () =>
        {
            page.Element("p", "Found before anything was fitted, by comparing the plan with the data of this export.");
            new HtmlTable(
                "The plan against the data",
                ["Question", "Place in the plan", "What was found", "What to do", "Question without an estimate"],
                [.. results.PlanFaults.Select(f => HtmlRow.Of(f.Question, f.Where, f.What, f.Hint, f.Stops ? "YES" : "no"))]).Write(page);
        });
    }
}
