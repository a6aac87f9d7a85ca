using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Record;

/// <summary>What a finished run was made from and what it wrote. Written last, as record.json: a folder without it is no finished run.</summary>
/// <param name="StudyId">Short name of the study.</param>
/// <param name="ProgramVersion">Version of the program.</param>
/// <param name="ProtocolVersion">Version of the protocol.</param>
/// <param name="ProtocolSha256">One hash over the protocol's files.</param>
/// <param name="ExportsSha256">One hash over the export files.</param>
/// <param name="Seed">Random seed.</param>
/// <param name="PlanDated">Date the plan was fixed.</param>
/// <param name="ExitCode">Exit code that belongs to these results.</param>
/// <param name="ExitMeaning">What the exit code means, a sentence.</param>
/// <param name="ProtocolFiles">Files of the protocol.</param>
/// <param name="ExportFiles">Files of the export.</param>
/// <param name="OutputFiles">Files written, in ordinal order of name, without the record itself.</param>
/// <remarks>The clock, the machine and the user are no part of it: the same exports, protocol and version give the same bytes.</remarks>
public sealed record RunRecord(
    string StudyId,
    string ProgramVersion,
    string ProtocolVersion,
    string ProtocolSha256,
    string ExportsSha256,
    int Seed,
    string PlanDated,
    int ExitCode,
    string ExitMeaning,
    ImmutableArray<FileFacts> ProtocolFiles,
    ImmutableArray<FileFacts> ExportFiles,
    ImmutableArray<FileFacts> OutputFiles)
{
    /// <summary>Name of the record in a run folder.</summary>
    public const string FileName = "record.json";

    /// <summary>Number of the chain's closing entry.</summary>
    public int ChainEntries { get; init; }

    /// <summary>Hash of the chain's closing entry: noted elsewhere, it shows any later change of the run.</summary>
    public string ChainHead { get; init; } = "";

    /// <summary>The record of these results with these outputs.</summary>
    public static RunRecord Of(StudyResults results, ImmutableArray<FileFacts> outputs)
    {
        int unanswered = results.Questions.Count(q => !q.Answered);
        Provenance from = results.Provenance;
        return new RunRecord(
            results.Study.Id, from.ProgramVersion, from.ProtocolVersion, from.ProtocolSha256, from.ExportsSha256, from.Seed,
            results.Study.PlanDated,
            unanswered == 0 ? 0 : 5,
            unanswered == 0
                ? "Every planned question was answered."
                : $"{NumberFormat.Count(unanswered, "planned question", "planned questions")} could not be answered; the report says why.",
            from.ProtocolFiles, from.ExportFiles, outputs);
    }

    /// <summary>The record of a finished run.</summary>
    /// <exception cref="FileNotFoundException">The folder holds no finished run.</exception>
    /// <exception cref="System.Text.Json.JsonException">The record is damaged, or of another version.</exception>
    public static RunRecord Read(string runFolder) => ResultsJson.ReadRecord(File.ReadAllBytes(Path.Combine(runFolder, FileName)));
}
