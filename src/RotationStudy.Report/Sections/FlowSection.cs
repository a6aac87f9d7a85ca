using System.Collections.Immutable;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>Who took part, and who is in which analysis.</summary>
internal static class FlowSection
{
    internal static void Write(HtmlWriter page, StudyResults results, ImmutableArray<Figure> figures) => page.Section("flow", "Who took part", () =>
    {
        StudyFacts study = results.Study;
        if (!study.Eligibility.IsEmpty)
        {
            page.Element("p", "Who may take part:");
            page.List(study.Eligibility);
        }
        foreach (Figure figure in figures)
            FigureSection.Write(page, figure);
        bool units = study.UnitMany is not null;
        new HtmlTable(
            "Participant flow",
            ["Step", HtmlColumn.Number(Sentence(study.ParticipantMany)), .. units ? [HtmlColumn.Number(Sentence(study.UnitMany!))] : Array.Empty<HtmlColumn>(), "Left out before this step"],
            [.. results.Flow.Select(s => Row(study, s, units))]).Write(page);
    });

    private static HtmlRow Row(StudyFacts study, FlowStep step, bool units)
    {
        SmallCounts small = new(study.SmallestPrintedCount);
        HtmlCell people = new(small.Text(step.Participants), step.Participants);
        HtmlCell knees = small.Hides(step.Participants) ? "" : (HtmlCell)step.Units;
        HtmlCell reasons = string.Join("; ", step.LeftOut.Select(r => $"{r.Reason}: {FlowWords.ReasonCounts(study, r)}"));
        return units ? HtmlRow.Of(FlowWords.BoxLabel(step), people, knees, reasons) : HtmlRow.Of(FlowWords.BoxLabel(step), people, reasons);
    }

    private static string Sentence(string noun) => char.ToUpperInvariant(noun[0]) + noun[1..];
}
