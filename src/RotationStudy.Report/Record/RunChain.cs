using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Record;

/// <summary>The chain of entries of a run: what went in, what each stage held, what came out, in which environment.</summary>
/// <remarks>
/// One JSON object per line, in chain.jsonl. Everything up to the environment is the same wherever the run is made; the environment stands near
/// the end so that two machines agree in all entries before it. The closing entry holds the hash of record.json (with an empty
/// head), and record.json holds the hash of the closing entry, its head. Who changes a file and makes every hash anew changes
/// the head: it must be noted elsewhere to show that.
/// </remarks>
internal static class RunChain
{
    /// <summary>Name of the file in a run folder.</summary>
    internal const string FileName = "chain.jsonl";

    internal const string Program = "program", Output = "output", Closed = "closed", Environment = "environment", Stage = "stage", ExportFile = "export_file", ProtocolFile = "protocol_file";

    /// <summary>The chain of a run, and its record with the head of the chain.</summary>
    internal static (ImmutableArray<ChainEntry> Chain, RunRecord Record) Close(StudyResults results, ImmutableArray<FileFacts> outputs)
    {
        RunRecord open = RunRecord.Of(results, outputs);
        List<ChainEntry> chain = [];
        Begin(chain, results, open);
        foreach (FileFacts file in outputs)
            AddFile(chain, Output, file);
        Add(chain, "answers", ("exit_code", Text(open.ExitCode)), ("exit_meaning", open.ExitMeaning));
        Add(chain, Environment, [.. RunEnvironment.Facts()]);
        open = open with { ChainEntries = chain.Count + 1 };
        Add(chain, Closed, ("record_sha256", HashOf(open)));
        return ([.. chain], open with { ChainHead = chain[^1].Hash });
    }

    /// <summary>Hash of a record with an empty head, as the closing entry states it.</summary>
    internal static string HashOf(RunRecord record)
        => Convert.ToHexStringLower(SHA256.HashData(ResultsJson.WriteRecord(record with { ChainHead = "" })));

    /// <summary>The chain as a file.</summary>
    internal static byte[] Write(IEnumerable<ChainEntry> chain)
        => Encoding.UTF8.GetBytes(string.Concat(chain.Select(e => e.Line + "\n")));

    /// <summary>The entries of a run that was found intact.</summary>
    internal static ImmutableArray<ChainEntry> Read(string folder)
        => [.. File.ReadLines(Path.Combine(folder, FileName)).Select(ChainEntry.Read).OfType<ChainEntry>()];

    private static void Begin(List<ChainEntry> chain, StudyResults results, RunRecord record)
    {
        Add(chain, "study", ("id", record.StudyId), ("protocol_version", record.ProtocolVersion), ("plan_dated", record.PlanDated));
        Add(chain, Program, ("version", record.ProgramVersion));
        if (results.Seal is { } seal)
            Add(chain, "plan_seal", ("dated", seal.Dated), ("sha256", seal.Sha256), ("deviations", Text(seal.Deviations.Length)));
        else
            Add(chain, "plan_seal", ("sealed", "no"));
        foreach (FileFacts file in record.ProtocolFiles)
            AddFile(chain, ProtocolFile, file);
        foreach (FileFacts file in record.ExportFiles)
            AddFile(chain, ExportFile, file);
        Add(chain, "random_seed", ("seed", Text(record.Seed)), ("streams", Text(results.Streams.Length)));
        foreach (RandomUse use in results.Streams)
            Add(chain, "random_stream", ("stream", use.Stream), ("use", use.Use));
        foreach (StageHash stage in results.Stages)
            Add(chain, Stage, ("stage", stage.Stage), ("item", stage.Item), ("rows", Text(stage.Rows)), ("sha256", stage.Sha256));
    }

    private static void AddFile(List<ChainEntry> chain, string kind, FileFacts file)
        => Add(chain, kind, ("name", file.Name), ("sha256", file.Sha256), ("bytes", file.Bytes.ToString(CultureInfo.InvariantCulture)));

    private static void Add(List<ChainEntry> chain, string kind, params ReadOnlySpan<(string Key, string Value)> facts)
        => chain.Add(ChainEntry.After(chain.Count == 0 ? null : chain[^1], kind, facts));

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
