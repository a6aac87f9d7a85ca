using System.Collections.Immutable;
using RotationStudy.Report.Html;
using RotationStudy.Report.Record;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>What the run was made from: enough for an auditor to obtain the same numbers.</summary>
internal static class RecordSection
{
    internal static void Write(HtmlWriter page, StudyResults results) => page.Section("record", "Record of the run", () =>
    {
        Provenance from = results.Provenance;
        page.Element("p", "The same exports, protocol and version of the program give the same bytes. "
            + $"The outputs and their hashes stand in {RunRecord.FileName} beside this page.");
        new HtmlTable(
            "What the run was made from",
            ["Fact", new HtmlColumn("Value", IsCode: true)],
            [
                HtmlRow.Of("Program version", from.ProgramVersion),
                HtmlRow.Of("Protocol version", from.ProtocolVersion),
                HtmlRow.Of("Plan fixed", results.Study.PlanDated),
                HtmlRow.Of("Random seed", from.Seed.ToString(System.Globalization.CultureInfo.InvariantCulture)),
                HtmlRow.Of("SHA-256 over the protocol", from.ProtocolSha256),
                HtmlRow.Of("SHA-256 over the exports", from.ExportsSha256),
            ]).Write(page);
        page.Element("p", "Random numbers: " + (results.Streams.IsEmpty ? "none." : string.Join("; ", results.Streams.Select(s => $"stream '{s.Stream}' for {s.Use}")) + "."));
        page.Element("p", "chain.jsonl beside this page holds an entry for every file that went in, every stage and every output, each with the hash of the one before. "
            + "'rotationstudy verify' says whether anything was changed since; 'rotationstudy audit' carries the run out a second time.");
        WriteFiles(page, "Files of the protocol", from.ProtocolFiles);
        WriteFiles(page, "Files of the exports", from.ExportFiles);
    });

    private static void WriteFiles(HtmlWriter page, string caption, ImmutableArray<FileFacts> files) => new HtmlTable(
        caption,
        ["File", HtmlColumn.Number("Size"), new HtmlColumn("SHA-256", IsCode: true)],
        [.. files.Select(f => HtmlRow.Of(f.Name, new HtmlCell(NumberFormat.Bytes(f.Bytes), f.Bytes), f.Sha256))]).Write(page);
}
