using System.Text.Json.Nodes;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Cli.Running;

/// <summary>The first half of every run: protocol, export, checked records; and its findings in words.</summary>
/// <param name="Protocol">The protocol.</param>
/// <param name="Records">The checked records.</param>
internal sealed record CheckedExport(StudyProtocol Protocol, CheckedRecords Records)
{
    /// <summary>Name of the query list.</summary>
    internal const string QueryFile = "query-list.csv";

    private const int ShownPerRule = 3;

    internal static CheckedExport Read(string protocolFolder, string exportFolder, IProgress<string> steps, CancellationToken cancellation)
    {
        steps.Report("Reading the protocol");
        StudyProtocol protocol = ProtocolReader.Read(protocolFolder);
        steps.Report("Reading the export");
        ExportFolder export = ExportReader.Read(exportFolder, protocol, cancellation);
        steps.Report("Checking the records");
        return new CheckedExport(protocol, RecordChecker.Check(protocol, export));
    }

    /// <summary>One line per rule with the first places, worst first.</summary>
    internal IReadOnlyList<string> Summary()
    {
        List<string> lines = [.. Records.Accounts.Select(a => $"{a.File}: {a.Read} rows read, {a.Used} used, {a.Read - a.Used} set aside")];
        foreach (IGrouping<(Severity Severity, string Rule), Finding> rule in Records.Findings
            .GroupBy(f => (f.Severity, f.Rule)).OrderBy(g => g.Key.Severity).ThenBy(g => g.Key.Rule, StringComparer.Ordinal))
        {
            lines.Add($"{QueryList.Words(rule.Key.Severity)}: {rule.Key.Rule}, {rule.Count()} found");
            lines.AddRange(rule.Take(ShownPerRule).Select(f => "  " + Words(f)));
            if (rule.Count() > ShownPerRule)
                lines.Add($"  and {rule.Count() - ShownPerRule} more");
        }
        return lines;
    }

    /// <summary>The findings that stop a run, each with its place.</summary>
    internal IReadOnlyList<string> Stops() => [.. Records.Findings.Where(f => f.Severity == Severity.Stop).Select(Words)];

    internal JsonObject Facts() => new()
    {
        ["study"] = Protocol.Study.Id,
        ["rows_read"] = Records.Accounts.Sum(a => a.Read),
        ["rows_used"] = Records.Accounts.Sum(a => a.Used),
        ["findings"] = new JsonObject(Enum.GetValues<Severity>().Select(s => KeyValuePair.Create(
            s switch { Severity.Stop => "stop", Severity.SetAside => "set_aside", Severity.AskTheSite => "ask_the_site", _ => "note" },
            (JsonNode?)JsonValue.Create(Records.Findings.Count(f => f.Severity == s))))),
    };

    private static string Words(Finding finding)
    {
        string place = finding.File
            + (finding.Line > 0 ? FormattableString.Invariant($":{finding.Line}") : "")
            + (finding.Column is null ? "" : $" {finding.Column}");
        return $"{place}: {finding.Message}";
    }
}
