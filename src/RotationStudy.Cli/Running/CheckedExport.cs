using System.Text.Json.Nodes;
using RotationStudy.Study.Archive;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Withdrawal;

namespace RotationStudy.Cli.Running;

/// <summary>The first half of every run: protocol, export (or an archive of checked records), checked records; and its findings in words.</summary>
/// <param name="Protocol">The protocol.</param>
/// <param name="Records">The checked records.</param>
/// <param name="Withdrawn">Who withdrew consent and is no part of the records.</param>
internal sealed record CheckedExport(StudyProtocol Protocol, CheckedRecords Records, WithdrawnIds Withdrawn)
{
    private const int ShownPerRule = 3;

    /// <summary>Reads and checks.</summary>
    /// <param name="protocolFolder">Protocol folder.</param>
    /// <param name="exportFolder">Folder of an export, a zip archive of one, or an archive of checked records.</param>
    /// <param name="steps">Told the name of each step.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <param name="withdrawnFile">List of those who withdrew consent; one in the protocol folder counts in any case.</param>
    internal static CheckedExport Read(
        string protocolFolder, string exportFolder, IProgress<string> steps, CancellationToken cancellation, string? withdrawnFile = null)
    {
        steps.Report("Reading the protocol");
        StudyProtocol protocol = ProtocolReader.Read(protocolFolder);
        WithdrawnIds withdrawn = WithdrawnList(protocolFolder, withdrawnFile);
        if (RecordArchive.IsIn(exportFolder))
        {
            steps.Report("Reading the archive");
            return new CheckedExport(protocol, RecordArchive.Read(exportFolder, protocol, withdrawn), withdrawn);
        }
        steps.Report("Reading the export");
        ExportFolder export = ExportWithdrawal.Apply(ExportReader.Read(exportFolder, protocol, steps, cancellation), protocol, withdrawn);
        steps.Report("Checking the records");
        return new CheckedExport(protocol, RecordChecker.Check(protocol, export), withdrawn);
    }

    /// <summary>The query list: all of it, and one for each site.</summary>
    /// <param name="previous">An earlier list to compare with; null for none.</param>
    internal IReadOnlyList<(string Name, byte[] Content)> QueryFiles(string? previous)
    {
        PreviousQueries before = previous is null ? PreviousQueries.None : PreviousQueries.Read(previous, Withdrawn);
        return [.. QueryList.Files(QueryList.Of(Records.Findings, before), Protocol.Study.Sites.Select(s => s.Id))];
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

    /// <summary>What a command says when the findings stop it.</summary>
    internal Outcome Stopped(string protocolFolder, string exportFolder) => new(
        ExitCode.ExportFindings,
        [],
        [.. Stops(), $"Nothing was analysed and nothing was written. All findings: rotationstudy examine {protocolFolder} {exportFolder}"],
        Facts());

    internal JsonObject Facts() => new()
    {
        ["study"] = Protocol.Study.Id,
        ["rows_read"] = Records.Accounts.Sum(a => a.Read),
        ["rows_used"] = Records.Accounts.Sum(a => a.Used),
        ["withdrawn_participants"] = Records.Withdrawn,
        ["findings"] = new JsonObject(Enum.GetValues<Severity>().Select(s => KeyValuePair.Create(
            s switch { Severity.Stop => "stop", Severity.SetAside => "set_aside", Severity.AskTheSite => "ask_the_site", _ => "note" },
            (JsonNode?)JsonValue.Create(Records.Findings.Count(f => f.Severity == s))))),
    };

    private static WithdrawnIds WithdrawnList(string protocolFolder, string? file)
    {
        string own = Path.Combine(protocolFolder, WithdrawnIds.FileName);
        List<string> files = File.Exists(own) ? [own] : [];
        if (file is not null)
            files.Add(file);
        return files.Count == 0 ? WithdrawnIds.None : WithdrawnIds.Read(files);
    }

    private static string Words(Finding finding)
    {
        string place = finding.File
            + (finding.Line > 0 ? FormattableString.Invariant($":{finding.Line}") : "")
            + (finding.Column is null ? "" : $" {finding.Column}");
        return $"{place}: {finding.Message}";
    }
}
