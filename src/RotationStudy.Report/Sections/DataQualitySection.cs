using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>What needs the clinical team, what became of every row, and what the checks found.</summary>
internal static class DataQualitySection
{
    internal static void Write(HtmlWriter page, StudyResults results) => page.Section("quality", "Data quality", () =>
    {
        WriteHipFirst(page, results);
        WriteAccounts(page, results);
        WriteRules(page, results.DataQuality);
        WriteExamples(page, results.DataQuality);
        ChecksSection.Write(page, results);
    });

    private static void WriteHipFirst(HtmlWriter page, StudyResults results)
    {
        if (results.DataQuality.HipFirst.IsEmpty)
            return;
        page.Section("hip-first", "For the clinical team: the hip comes first", () =>
        {
            page.Open("div", ("class", "box stop"));
            page.Element("p", "A painful or restricted hip is examined and imaged by a clinician before a knee explanation is accepted. The rotational profile of these examinations was not used.");
            page.Close("div");
            new HtmlTable(
                "Examinations with a hip that is painful, restricted or was not examined",
                [Title(results.Study.ParticipantOne), "Site", "Visit", "Side", "Hip"],
                [.. results.DataQuality.HipFirst.Select(h => HtmlRow.Of(h.Participant, h.Site, h.Visit, h.Side, h.What))]).Write(page);
        }, 3);
    }

    private static void WriteAccounts(HtmlWriter page, StudyResults results)
    {
        page.Heading(3, "What became of every row");
        int read = results.Accounts.Sum(a => a.Read), used = results.Accounts.Sum(a => a.Used), aside = results.Accounts.Sum(SetAside);
        new HtmlTable(
            "Rows read, used and set aside",
            ["Table", "File", HtmlColumn.Number("Read"), HtmlColumn.Number("Used"), HtmlColumn.Number("Set aside"), "Sum agrees", "Why set aside"],
            [.. results.Accounts.Select(Row)])
        {
            Totals = HtmlRow.Of("All tables", "", read, used, aside, Agrees(read, used, aside), ""),
            Footnotes = ["Read = used + set aside, for each file and in all."],
        }.Write(page);
    }

    private static void WriteRules(HtmlWriter page, DataQuality quality)
    {
        page.Heading(3, "What the checks found");
        if (quality.Rules.IsEmpty)
        {
            page.Element("p", "No check found anything.");
            return;
        }
        new HtmlTable(
            "Findings by rule",
            ["Rule", "What it looks at", "What it does", HtmlColumn.Number("Findings")],
            [.. quality.Rules.Select(r => HtmlRow.Of(r.Rule, r.Explanation, r.Severity, r.Count))]).Write(page);
    }

    private static void WriteExamples(HtmlWriter page, DataQuality quality)
    {
        if (quality.Examples.IsEmpty)
            return;
        page.Open("details").Element("summary", $"First findings of each rule ({NumberFormat.Count(quality.Examples.Length)})");
        new HtmlTable(
            "First findings of each rule",
            ["Where", "Rule", "Value", "Message", "What it does"],
            [.. quality.Examples.Select(f => HtmlRow.Of(f.Where, f.Rule, f.Value, f.Message, f.Severity))]).Write(page);
        page.Close("details");
    }

    private static HtmlRow Row(AccountLine line) => HtmlRow.Of(
        line.Label, line.File, line.Read, line.Used, SetAside(line), Agrees(line.Read, line.Used, SetAside(line)),
        string.Join("; ", line.SetAside.Select(r => $"{r.Reason}: {NumberFormat.Count(r.Rows)}")));

    private static int SetAside(AccountLine line) => line.SetAside.Sum(r => r.Rows);

    private static string Agrees(int read, int used, int aside) => read == used + aside ? "yes" : "NO";

    private static string Title(string noun) => char.ToUpperInvariant(noun[0]) + noun[1..];
}
