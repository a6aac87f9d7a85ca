using System.Reflection;
using System.Security.Cryptography;
using System.Text.Json.Nodes;
using RotationStudy.Report;
using RotationStudy.Report.Record;
using RotationStudy.Study;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Cli.Running;

/// <summary>One whole run: protocol and export in, run folder out. What is written appears whole or not at all.</summary>
internal static class StudyRun
{
    /// <summary>Version of the program, for the record of the run.</summary>
    internal static string ProgramVersion { get; } = typeof(StudyRun).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion;

    /// <summary>Folder of the protocol within a run folder.</summary>
    internal const string KeptProtocol = "protocol";

    internal static Outcome Run(string protocolFolder, string exportFolder, string to, bool replace, Session session, string? withdrawn = null, string? previousQueries = null)
        => session.Steps(steps =>
        {
            CheckedExport export = CheckedExport.Read(protocolFolder, exportFolder, steps, session.Cancellation, withdrawn);
            if (export.Records.MustStop)
                return export.Stopped(protocolFolder, exportFolder);
            IReadOnlyList<(string Name, byte[] Content)> queries = export.QueryFiles(previousQueries);
            using RunFolder folder = RunFolder.Open(to, replace);
            (StudyResults results, RunRecord record) = Carry(export, protocolFolder, queries, folder, steps);
            return Finished(export, results, record, to);
        });

    /// <summary>Carries out the plan and writes the run into an open folder.</summary>
    internal static (StudyResults Results, RunRecord Record) Carry(
        CheckedExport export, string protocolFolder, IReadOnlyList<(string Name, byte[] Content)> queries, RunFolder folder, IProgress<string> steps)
    {
        StudyResults results = StudyPipeline.Run(export.Protocol, export.Records, ProgramVersion, steps);
        foreach ((string name, byte[] content) in queries)
            folder.Write(name, content);
        KeepProtocol(folder, export.Protocol, protocolFolder);
        return (results, StudyReport.Write(results, folder, steps));
    }

    /// <summary>Keeps the protocol with the run, so that the run can be carried out again from its folder and the exports alone.</summary>
    private static void KeepProtocol(RunFolder folder, StudyProtocol protocol, string protocolFolder)
    {
        foreach (FileHash file in protocol.Files)
        {
            byte[] content = File.ReadAllBytes(Path.Combine(protocolFolder, file.Name));
            if (Convert.ToHexStringLower(SHA256.HashData(content)) != file.Sha256)
                throw new IOException($"{Path.Combine(protocolFolder, file.Name)} was changed while the study was carried out. Run the study again.");
            folder.Write($"{KeptProtocol}/{file.Name}", content);
        }
    }

    private static Outcome Finished(CheckedExport export, StudyResults results, RunRecord record, string to)
    {
        List<string> said = [];
        int hipFirst = results.DataQuality.HipFirst.Length;
        if (hipFirst > 0)
            said.Add($"For the clinical team first: {hipFirst} examinations with a painful, restricted or unexamined hip, listed in the report.");
        said.AddRange(results.Questions.Select(q => $"{q.Id} {q.Title}: {q.Answer}"));
        said.Add($"Head of the record, to be noted elsewhere: {record.ChainHead}");
        said.Add($"Open {Path.Combine(to, "report.html")}");
        string[] planFaults = [.. results.PlanFaults.Select(f => $"{f.Where}: {f.Question}: {f.What} {f.Hint}")];
        string[] unanswered = [.. results.Questions.Where(q => !q.Answered).Select(q => $"{q.Id} could not be answered: {q.Answer}")];
        JsonObject facts = export.Facts();
        facts["folder"] = to;
        facts["record_head"] = record.ChainHead;
        facts["questions"] = new JsonArray([.. results.Questions.Select(q => new JsonObject
        {
            ["id"] = q.Id,
            ["answered"] = q.Answered,
            ["answer"] = q.Answer,
        })]);
        facts["plan_faults"] = new JsonArray([.. planFaults.Select(f => JsonValue.Create(f))]);
        return new Outcome(unanswered.Length == 0 ? ExitCode.Done : ExitCode.QuestionUnanswered, said, [.. planFaults, .. unanswered], facts);
    }
}
