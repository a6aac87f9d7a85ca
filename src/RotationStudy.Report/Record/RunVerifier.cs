using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Record;

/// <summary>Something in a run folder that is not as its record says.</summary>
/// <param name="Place">The entry of the chain, or the file.</param>
/// <param name="What">What differs, a sentence.</param>
public sealed record RunDeparture(string Place, string What);

/// <summary>What the look at a run folder gave.</summary>
/// <param name="Record">The record; null when it cannot be read.</param>
/// <param name="Entries">Entries of the chain that could be read.</param>
/// <param name="Files">Files compared with their entries.</param>
/// <param name="Departures">Everything that is not as the record says; empty for an intact run.</param>
public sealed record VerifiedRun(RunRecord? Record, int Entries, int Files, ImmutableArray<RunDeparture> Departures);

/// <summary>Compares a run folder with its record: every entry of the chain with the one before, every file with its entry.</summary>
/// <remarks>
/// A change of a file, of an entry, of their order or number shows. A forger who makes all hashes anew gives the run another head;
/// that shows when the head noted at the time of the run is given.
/// </remarks>
public static class RunVerifier
{
    private const int ShortestHead = 12;

    /// <summary>Looks at a finished run.</summary>
    /// <param name="folder">The run folder.</param>
    /// <param name="notedHead">The head noted when the run was made, or at least its first twelve characters; null when none was.</param>
    /// <exception cref="FileNotFoundException">The folder holds no finished run.</exception>
    public static VerifiedRun Verify(string folder, string? notedHead = null)
    {
        if (!File.Exists(Path.Combine(folder, RunRecord.FileName)))
            throw new FileNotFoundException($"{folder} holds no finished run: {RunRecord.FileName} is missing.");
        List<RunDeparture> found = [];
        RunRecord? record = ReadRecord(folder, found);
        ChainEntry[] chain = ReadChain(folder, found);
        CheckLinks(chain, found);
        if (record is not null)
        {
            CheckClosing(record, chain, found);
            CheckLists(record, chain, found);
            CheckHead(record, notedHead, found);
        }
        int files = CheckFiles(folder, chain, found);
        return new VerifiedRun(record, chain.Length, files, [.. found]);
    }

    private static RunRecord? ReadRecord(string folder, List<RunDeparture> found)
    {
        try
        {
            byte[] bytes = File.ReadAllBytes(Path.Combine(folder, RunRecord.FileName));
            RunRecord record = ResultsJson.ReadRecord(bytes);
            if (!ResultsJson.WriteRecord(record).AsSpan().SequenceEqual(bytes))
                found.Add(new RunDeparture(RunRecord.FileName, "It is not written as the program writes it."));
            return record;
        }
        catch (JsonException fault)
        {
            found.Add(new RunDeparture(RunRecord.FileName, $"It is damaged, or of another version: {fault.Message}"));
            return null;
        }
    }

    private static ChainEntry[] ReadChain(string folder, List<RunDeparture> found)
    {
        string path = Path.Combine(folder, RunChain.FileName);
        if (!File.Exists(path))
        {
            found.Add(new RunDeparture(RunChain.FileName, "It is missing."));
            return [];
        }
        string text = ReadStrictly(path, found);
        List<ChainEntry> chain = [];
        string[] lines = text.Split('\n');
        if (lines[^1].Length > 0)
            found.Add(new RunDeparture(RunChain.FileName, "The last line does not end: the file was cut short or added to."));
        foreach (string line in text.EndsWith('\n') ? lines[..^1] : lines)
        {
            ChainEntry? entry = ChainEntry.Read(line);
            if (entry is null || entry.Line != line)
            {
                found.Add(new RunDeparture(EntryName(chain.Count + 1), "The line is not as the program writes it."));
                break;
            }
            chain.Add(entry);
        }
        return [.. chain];
    }

    private static string ReadStrictly(string path, List<RunDeparture> found)
    {
        byte[] bytes = File.ReadAllBytes(path);
        string text = Encoding.UTF8.GetString(bytes);
        if (!Encoding.UTF8.GetBytes(text).AsSpan().SequenceEqual(bytes))
            found.Add(new RunDeparture(RunChain.FileName, "It holds bytes that are no text."));
        return text;
    }

    private static void CheckLinks(ChainEntry[] chain, List<RunDeparture> found)
    {
        for (int i = 0; i < chain.Length; i++)
        {
            ChainEntry entry = chain[i];
            string place = $"{EntryName(i + 1)} ({Words(entry)})";
            if (entry.Number != i + 1)
                found.Add(new RunDeparture(place, $"It says it is number {entry.Number}: an entry was taken out, put in or moved."));
            if (entry.Hash != entry.RightHash)
                found.Add(new RunDeparture(place, "What it says does not give its hash: it was changed."));
            if (entry.Previous != (i == 0 ? ChainEntry.Beginning : chain[i - 1].Hash))
                found.Add(new RunDeparture(place, "It does not follow from the entry before it."));
        }
    }

    private static void CheckClosing(RunRecord record, ChainEntry[] chain, List<RunDeparture> found)
    {
        if (record.ChainEntries < 1 || record.ChainEntries > chain.Length || chain[record.ChainEntries - 1] is not { Kind: RunChain.Closed } closing)
        {
            found.Add(new RunDeparture(RunChain.FileName, FormattableString.Invariant($"The record was closed by entry {record.ChainEntries}, which is not there as the closing entry.")));
            return;
        }
        if (closing.Hash != record.ChainHead)
            found.Add(new RunDeparture(RunRecord.FileName, "Its head is not the hash of the closing entry."));
        if (closing.Fact("record_sha256") != RunChain.HashOf(record))
            found.Add(new RunDeparture(RunRecord.FileName, "It is not the record that the closing entry was written for: one of the two was changed."));
    }

    private static void CheckLists(RunRecord record, ChainEntry[] chain, List<RunDeparture> found)
    {
        foreach ((string kind, ImmutableArray<FileFacts> files) in new[]
        {
            (RunChain.ProtocolFile, record.ProtocolFiles), (RunChain.ExportFile, record.ExportFiles), (RunChain.Output, record.OutputFiles),
        })
        {
            string[] inChain = [.. chain.Where(e => e.Kind == kind).Select(e => $"{e.Fact("name")} {e.Fact("sha256")} {e.Fact("bytes")}")];
            string[] inRecord = [.. files.Select(f => FormattableString.Invariant($"{f.Name} {f.Sha256} {f.Bytes}"))];
            foreach (string differs in inRecord.Except(inChain).Concat(inChain.Except(inRecord)).Select(l => l.Split(' ')[0]).Distinct())
                found.Add(new RunDeparture(RunRecord.FileName, $"Record and chain say different things of {kind.Replace('_', ' ')} {differs}."));
        }
    }

    private static void CheckHead(RunRecord record, string? noted, List<RunDeparture> found)
    {
        if (noted is not null && (noted.Length < ShortestHead || !record.ChainHead.StartsWith(noted, StringComparison.OrdinalIgnoreCase)))
            found.Add(new RunDeparture(RunRecord.FileName, $"The head of the record is {record.ChainHead}, not the one noted, {noted}: this is another run, or the whole record was made anew."));
    }

    private static int CheckFiles(string folder, ChainEntry[] chain, List<RunDeparture> found)
    {
        ChainEntry[] outputs = [.. chain.Where(e => e.Kind == RunChain.Output)];
        foreach (ChainEntry entry in outputs)
        {
            string name = entry.Fact("name");
            string path = Path.Combine(folder, name);
            if (!RunFolder.IsPlainName(name))
                found.Add(new RunDeparture(EntryName(entry.Number), "It names a file outside the folder."));
            else if (!File.Exists(path))
                found.Add(new RunDeparture(name, $"The file is missing (entry {entry.Number})."));
            else if (Difference(path, entry) is { } difference)
                found.Add(new RunDeparture(name, $"{difference} (entry {entry.Number})."));
        }
        HashSet<string> known = [.. outputs.Select(e => e.Fact("name")), RunRecord.FileName, RunChain.FileName];
        foreach (string name in Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)
            .Select(f => Path.GetRelativePath(folder, f).Replace('\\', '/')).Where(n => !known.Contains(n)).Order(StringComparer.Ordinal))
            found.Add(new RunDeparture(name, "No entry names this file: it was added after the run."));
        return outputs.Length;
    }

    private static string? Difference(string path, ChainEntry entry)
    {
        using FileStream stream = File.OpenRead(path);
        if (stream.Length.ToString(CultureInfo.InvariantCulture) != entry.Fact("bytes"))
            return $"The file has {stream.Length.ToString(CultureInfo.InvariantCulture)} bytes, the record says {entry.Fact("bytes")}";
        return Convert.ToHexStringLower(SHA256.HashData(stream)) == entry.Fact("sha256") ? null : "The bytes of the file are not those of the record";
    }

    private static string EntryName(int number) => FormattableString.Invariant($"entry {number}");

    private static string Words(ChainEntry entry)
        => string.Join(' ', new[] { entry.Kind.Replace('_', ' '), entry.Fact("stage"), entry.Fact("item"), entry.Fact("name") }.Where(t => t.Length > 0));
}
