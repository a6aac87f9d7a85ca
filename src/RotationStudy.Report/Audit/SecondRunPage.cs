using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Audit;

/// <summary>The auditor's page: the outcome first, then results that moved and because of whom, then data and findings.</summary>
internal static class SecondRunPage
{
    private const int ShownPersons = 10;
    private const int ShownFindings = 200;

    internal static string Write(SecondRun run)
    {
        HtmlWriter page = new();
        PageShell.Begin(page, $"Second run: {VisibleText.Of(run.StudyTitle)}");
        page.Open("header").Heading(1, $"Second run: {run.StudyTitle}");
        page.Open("div", ("class", run.Outcome is "reproduced" or "results_unchanged" ? "box" : "box care")).Element("p", run.Sentence, ("class", "answer")).Close("div");
        page.Element("p", "This page names participants by their ids. It is for auditors and the study's team, not for publication.", ("class", "facts"));
        page.Close("header").Open("main");
        page.Section("answers", "What was compared", () => WriteInputs(page, run));
        if (run.Comparison is { } comparison)
            page.Section("differences", "Differences in the order of the run", () => WriteDifferences(page, comparison));
        if (run.Data is { } data)
        {
            page.Section("results", "Results", () => WriteResults(page, run));
            page.Section("because", "Because of whom", () => WriteReasons(page, run, data));
            page.Section("data", "Data", () => WriteData(page, data));
        }
        if (run.Findings is { } findings)
            page.Section("findings", "Findings", () => WriteFindings(page, findings));
        page.Close("main");
        PageShell.End(page);
        return page.Finish();
    }

    private static void WriteInputs(HtmlWriter page, SecondRun run) => new HtmlTable(
        "The archived run and the second one",
        ["Fact", new HtmlColumn("Archived run", IsCode: true), new HtmlColumn("Second run", IsCode: true)],
        [
            HtmlRow.Of("Program version", run.Archived.ProgramVersion, run.Second.ProgramVersion),
            HtmlRow.Of("SHA-256 over the protocol", run.Archived.ProtocolSha256, run.Second.ProtocolSha256),
            HtmlRow.Of("SHA-256 over the exports", run.Archived.ExportsSha256, run.Second.ExportsSha256),
            HtmlRow.Of("Random seed", Text(run.Archived.Seed), Text(run.Second.Seed)),
            HtmlRow.Of("Head of the record", run.ArchivedHead, ""),
        ]).Write(page);

    private static void WriteDifferences(HtmlWriter page, RunComparison comparison)
    {
        if (comparison.Differences.IsEmpty)
        {
            page.Element("p", $"None: circumstances, stages, answers and the bytes of {NumberFormat.Count(comparison.OutputsCompared)} outputs agree.");
            return;
        }
        new HtmlTable("What differs", ["Stage", "Item", "What"], [.. comparison.Differences.Select(d => HtmlRow.Of(d.Stage, d.Item, d.What))]).Write(page);
    }

    private static void WriteResults(HtmlWriter page, SecondRun run)
    {
        ResultShift[] moved = [.. run.Shifts.Where(s => s.Moved)];
        page.Element("p", $"{NumberFormat.Count(run.Shifts.Length - moved.Length)} of {NumberFormat.Count(run.Shifts.Length)} estimates are the same in every digit.");
        if (moved.Length == 0)
            return;
        WriteMoved(page, "Planned results that moved", [.. moved.Where(s => s.IsPlanned)]);
        WriteMoved(page, "Other estimates that moved: terms adjusted for, other methods, further analyses", [.. moved.Where(s => !s.IsPlanned)]);
    }

    private static void WriteMoved(HtmlWriter page, string caption, ResultShift[] moved)
    {
        if (moved.Length == 0)
            return;
        new HtmlTable(
            caption,
            [new HtmlColumn("Result", IsCode: true), "Estimate of", "Before (95% interval)", "After (95% interval)", HtmlColumn.Number("Shift"), HtmlColumn.Number("In SE"), "Conclusion"],
            [.. moved.Select(s => HtmlRow.Of(
                s.Id, s.Label, s.Before is null ? "none" : NumberFormat.EstimateAndInterval(s.Before), s.After is null ? "none" : NumberFormat.EstimateAndInterval(s.After),
                Number(s.Shift), Number(s.ShiftInStandardErrors), s.ConclusionChanged ? $"CHANGED: {s.ConclusionBefore}, now {s.ConclusionAfter}" : s.ConclusionAfter))])
        {
            Footnotes = ["Shift: after minus before on the scale of the model, the logarithm for ratios. SE: standard errors of the earlier estimate. Conclusion: whether the 95% interval lies above or below the value of no association, or holds it (not shown)."],
        }.Write(page);
    }

    private static void WriteReasons(HtmlWriter page, SecondRun run, DataChanges data)
    {
        ResultShift[] taken = [.. run.Shifts.Where(s => !s.Steps.IsEmpty)];
        if (taken.Length == 0)
        {
            page.Element("p", "No planned result moved, so there is nothing to take apart.");
            return;
        }
        page.Element("p", "The whole plan was carried out again in steps: removed participants were taken out of the earlier data, then changed ones exchanged, then added ones put in. "
            + "The order of the steps decides how much each gets; the last column is the average over all six orders (Shapley 1953), which no order decides.");
        foreach (ResultShift shift in taken)
        {
            page.Heading(3, $"{shift.Id}: {shift.Label}");
            WriteSteps(page, shift);
            WritePersons(page, shift);
        }
        if (taken.All(s => s.Persons.IsEmpty))
            page.Element("p", $"{NumberFormat.Count(data.Participants.Length)} participants differ, too many to follow one by one.");
    }

    private static void WriteSteps(HtmlWriter page, ResultShift shift) => new HtmlTable(
        $"Steps from the earlier to the new estimate of {shift.Id}",
        ["Because of participants", HtmlColumn.Number("In the data"), HtmlColumn.Number("Estimate after the step"), HtmlColumn.Number("Shift"), HtmlColumn.Number("Averaged over the orders")],
        [.. shift.Steps.Select(s => HtmlRow.Of(s.Because, s.Participants, Number(s.Estimate), Number(s.Shift), Number(s.OrderAveraged)))])
    {
        Totals = HtmlRow.Of("sum", "", "", Number(shift.Steps.Aggregate((double?)0, (sum, s) => sum + s.Shift)), Number(shift.Steps.Aggregate((double?)0, (sum, s) => sum + s.OrderAveraged))),
        Footnotes =
        [
            shift.SumHolds == true
                ? $"The steps begin at the archived estimate, end at the new one and add up to its shift, {Number(shift.Shift).Text}."
                : $"CARE: the steps do not add up to the shift, {Number(shift.Shift).Text}: a step could not be fitted, or the archived estimate was made by another version of the program.",
        ],
    }.Write(page);

    private static void WritePersons(HtmlWriter page, ResultShift shift)
    {
        ShiftOfPerson[] moving = [.. shift.Persons.Where(p => p.Shift is not 0)];
        if (moving.Length == 0)
            return;
        new HtmlTable(
            $"Participants who alone move the earlier estimate of {shift.Id} most",
            ["Participant", "Site", "Because", HtmlColumn.Number("Shift alone")],
            [.. moving.Take(ShownPersons).Select(p => HtmlRow.Of(p.Participant, p.Site, p.Because, Number(p.Shift)))])
        {
            Footnotes = [$"Each was exchanged alone in the earlier data; these shifts need not add up. {NumberFormat.Count(moving.Length)} of {NumberFormat.Count(shift.Persons.Length)} participants who differ move it at all."],
        }.Write(page);
    }

    private static void WriteData(HtmlWriter page, DataChanges data)
    {
        if (data.None)
        {
            page.Element("p", "The checked records are the same: the files differ in nothing that is read, such as the order of rows.");
            return;
        }
        new HtmlTable("Participants who are not the same", ["Participant", "Site", "What", HtmlColumn.Number("Rows added"), HtmlColumn.Number("Rows removed"), HtmlColumn.Number("Values changed")],
            [.. data.Participants.Select(p => HtmlRow.Of(p.Participant.Length > 0 ? p.Participant : "(rows that name nobody)", p.Site, p.What, p.RowsAdded, p.RowsRemoved, p.ValuesChanged))]).Write(page);
        if (!data.Visits.IsEmpty)
        {
            new HtmlTable("Visits by site", ["Site", "Visit", HtmlColumn.Number("Added"), HtmlColumn.Number("Removed")],
                [.. data.Visits.Select(v => HtmlRow.Of(v.Site, v.Visit, v.Added, v.Removed))]).Write(page);
        }
        new HtmlTable("Rows by table and site", ["Table", "Site", HtmlColumn.Number("Added"), HtmlColumn.Number("Removed"), HtmlColumn.Number("Changed")],
            [.. data.Rows.Select(r => HtmlRow.Of(r.Table, r.Site, r.Added, r.Removed, r.Changed))]).Write(page);
        if (data.Values.IsEmpty)
            return;
        new HtmlTable("Values by column and site, in rows that both have", ["Table", "Column", "Site", HtmlColumn.Number("Changed"), HtmlColumn.Number("Filled in"), HtmlColumn.Number("Emptied")],
            [.. data.Values.Select(v => HtmlRow.Of(v.Table, v.Column, v.Site, v.Changed, v.FilledIn, v.Emptied))]).Write(page);
    }

    private static void WriteFindings(HtmlWriter page, FindingChanges findings)
    {
        page.Element("p", $"{NumberFormat.Count(findings.Opened.Length)} opened, {NumberFormat.Count(findings.Closed.Length)} closed, {NumberFormat.Count(findings.Remaining)} remained.");
        if (!findings.Rules.IsEmpty)
        {
            new HtmlTable("Findings by rule and site", ["Rule", "Site", HtmlColumn.Number("Opened"), HtmlColumn.Number("Closed")],
                [.. findings.Rules.Select(r => HtmlRow.Of(r.Rule, r.Site, r.Opened, r.Closed))]).Write(page);
        }
        WriteList(page, "Findings that opened", findings.Opened);
        WriteList(page, "Findings that closed", findings.Closed);
    }

    private static void WriteList(HtmlWriter page, string caption, ImmutableArray<FindingPlace> findings)
    {
        if (findings.IsEmpty)
            return;
        new HtmlTable(caption, ["Rule", "What it does", "Site", "Participant", "File", "Column", "Message"],
            [.. findings.Take(ShownFindings).Select(f => HtmlRow.Of(f.Rule, f.Severity, f.Site, f.Participant, f.File, f.Column, f.Message))])
        {
            Footnotes = findings.Length > ShownFindings ? [$"The first {ShownFindings} of {NumberFormat.Count(findings.Length)}; {SecondRunFiles.Machine} has all."] : [],
        }.Write(page);
    }

    private static HtmlCell Number(double? value) => value is { } number ? new HtmlCell(NumberFormat.Brief(number), number) : "cannot be fitted";

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
