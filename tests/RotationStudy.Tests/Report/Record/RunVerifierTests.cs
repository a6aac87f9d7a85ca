using RotationStudy.Report.Record;

namespace RotationStudy.Tests.Report.Record;

/// <summary>Whatever is changed in a finished run afterwards shows, and the message names where.</summary>
public sealed class RunVerifierTests : IDisposable
{
    private readonly DirectoryInfo _temp = Directory.CreateTempSubdirectory("run-verifier-");
    private readonly RunRecord _record;

    public RunVerifierTests()
    {
        using RunFolder folder = RunFolder.Open(Run);
        folder.Write("a.txt", "one");
        folder.Write("sub/b.txt", "two");
        _record = folder.Complete(SampleResults.Study());
    }

    private string Run => Path.Combine(_temp.FullName, "run");

    private string Chain => Path.Combine(Run, RunChain.FileName);

    private string Record => Path.Combine(Run, RunRecord.FileName);

    public void Dispose() => _temp.Delete(recursive: true);

    [Fact]
    public void An_untouched_run_is_intact()
    {
        VerifiedRun verified = RunVerifier.Verify(Run, _record.ChainHead);
        Assert.Empty(verified.Departures);
        Assert.Equal(2, verified.Files);
        Assert.Equal(_record.ChainEntries, verified.Entries);
    }

    [Fact]
    public void Every_single_flipped_byte_of_chain_and_record_shows()
    {
        foreach (string file in new[] { Chain, Record })
        {
            byte[] good = File.ReadAllBytes(file);
            for (int at = 0; at < good.Length; at += 7)
            {
                byte[] bad = [.. good];
                bad[at] ^= 1;
                File.WriteAllBytes(file, bad);
                Assert.True(RunVerifier.Verify(Run).Departures.Length > 0, $"byte {at} of {Path.GetFileName(file)}");
            }
            File.WriteAllBytes(file, good);
        }
        Assert.Empty(RunVerifier.Verify(Run).Departures);
    }

    [Fact]
    public void A_changed_missing_or_added_file_is_named()
    {
        File.WriteAllText(Path.Combine(Run, "a.txt"), "eno");
        File.Delete(Path.Combine(Run, "sub", "b.txt"));
        File.WriteAllText(Path.Combine(Run, "sub", "c.txt"), "three");
        RunDeparture[] found = [.. RunVerifier.Verify(Run).Departures];
        Assert.Equal(["a.txt", "sub/b.txt", "sub/c.txt"], found.Select(d => d.Place));
        Assert.StartsWith("The bytes of the file are not those of the record", found[0].What, StringComparison.Ordinal);
        Assert.StartsWith("The file is missing", found[1].What, StringComparison.Ordinal);
        Assert.StartsWith("No entry names this file", found[2].What, StringComparison.Ordinal);
    }

    [Fact]
    public void An_entry_taken_out_or_moved_is_named()
    {
        string[] lines = File.ReadAllLines(Chain);
        WriteChain([.. lines.Where((_, i) => i != 4)]);
        Assert.Contains(RunVerifier.Verify(Run).Departures, d => d.Place.StartsWith("entry 5 ", StringComparison.Ordinal) && d.What.Contains("taken out", StringComparison.Ordinal));
        (lines[3], lines[4]) = (lines[4], lines[3]);
        WriteChain(lines);
        Assert.Contains(RunVerifier.Verify(Run).Departures, d => d.Place.StartsWith("entry 4 ", StringComparison.Ordinal));
    }

    [Fact]
    public void An_entry_rewritten_with_a_right_hash_breaks_the_link_of_the_next()
    {
        string[] lines = File.ReadAllLines(Chain);
        ChainEntry third = ChainEntry.Read(lines[2])!;
        ChainEntry forged = third with { Facts = third.Facts.SetItem("sealed", "yes") };
        lines[2] = (forged with { Hash = forged.RightHash }).Line;
        WriteChain(lines);
        RunDeparture found = Assert.Single(RunVerifier.Verify(Run).Departures);
        Assert.StartsWith("entry 4 ", found.Place, StringComparison.Ordinal);
        Assert.Equal("It does not follow from the entry before it.", found.What);
    }

    [Fact]
    public void A_record_made_anew_as_a_whole_shows_by_the_noted_head_only()
    {
        using (RunFolder folder = RunFolder.Open(Run, overwrite: true))
        {
            folder.Write("a.txt", "forged");
            folder.Complete(SampleResults.Study());
        }
        Assert.Empty(RunVerifier.Verify(Run).Departures);
        RunDeparture found = Assert.Single(RunVerifier.Verify(Run, _record.ChainHead[..12]).Departures);
        Assert.Contains("not the one noted", found.What, StringComparison.Ordinal);
        Assert.Single(RunVerifier.Verify(Run, RunRecord.Read(Run).ChainHead[..11]).Departures);
    }

    [Fact]
    public void A_chain_cut_short_or_gone_shows()
    {
        string whole = File.ReadAllText(Chain);
        File.WriteAllText(Chain, whole[..^10]);
        Assert.NotEmpty(RunVerifier.Verify(Run).Departures);
        File.Delete(Chain);
        Assert.Contains(RunVerifier.Verify(Run).Departures, d => d is { Place: RunChain.FileName, What: "It is missing." });
    }

    [Fact]
    public void A_name_that_leads_out_of_the_folder_is_not_opened()
    {
        string[] lines = File.ReadAllLines(Chain);
        int at = Array.FindIndex(lines, l => l.Contains("\"a.txt\"", StringComparison.Ordinal));
        lines[at] = lines[at].Replace("a.txt", "../a.txt", StringComparison.Ordinal);
        WriteChain(lines);
        Assert.Contains(RunVerifier.Verify(Run).Departures, d => d.What == "It names a file outside the folder.");
    }

    [Fact]
    public void A_folder_without_a_record_is_no_finished_run()
    {
        File.Delete(Record);
        Assert.Contains("no finished run", Assert.Throws<FileNotFoundException>(() => RunVerifier.Verify(Run)).Message, StringComparison.Ordinal);
    }

    private void WriteChain(string[] lines) => File.WriteAllText(Chain, string.Concat(lines.Select(l => l + "\n")));
}
