using RotationStudy.Study.Archive;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Withdrawal;

namespace RotationStudy.Tests.Withdrawal;

public sealed class ArchiveWithdrawalTests : IDisposable
{
    private readonly string root = Directory.CreateTempSubdirectory("rotationstudy-withdrawal-").FullName;

    public void Dispose() => Directory.Delete(root, recursive: true);

    [Fact]
    public void Removing_afterwards_leaves_the_tables_that_removing_before_leaves()
    {
        using TestExport export = Untidy();
        Keep("later", export.CheckAll());
        ArchiveWithdrawn removed = ArchiveWithdrawal.Apply(At("later"), WithdrawnIds.Of("A-001", "Q-777"), Writing("after"));
        Assert.Equal((1, 1), (removed.Participants, removed.InAll));
        Assert.Equal("line 2 of the list", Assert.Single(removed.Nowhere));
        Keep("before", RecordChecker.Check(TestExport.WithChecks, ExportWithdrawal.Apply(export.Read(), TestExport.WithChecks, WithdrawnIds.Of("A-001"))));
        foreach (string table in Directory.EnumerateFiles(At("before"), "*.parquet").Select(f => Path.GetFileName(f)).Where(f => f != "findings.parquet"))
            Assert.True(File.ReadAllBytes(At("before", table)).AsSpan().SequenceEqual(File.ReadAllBytes(At("after", table))), table);
    }

    [Fact]
    public void No_identifier_is_left_in_tables_findings_or_manifest_and_the_accounts_balance()
    {
        using TestExport export = Untidy();
        Keep("archive", export.CheckAll());
        ArchiveWithdrawal.Apply(At("archive"), WithdrawnIds.Of("A-001"), Writing("after"));
        ArchiveContent left = ArchiveContent.Open(At("after"));
        IEnumerable<string?> texts = left.Tables.Select(t => t.File).Append(FindingFile.Of(left.Findings)).SelectMany(f => f.Columns.OfType<Texts>()).SelectMany(c => c.Values);
        Assert.DoesNotContain(texts, t => t is not null && t.Contains("A-001", StringComparison.Ordinal));
        Assert.DoesNotContain("A-001", File.ReadAllText(At("after", "archive.json")), StringComparison.Ordinal);
        Assert.Contains(left.Findings, f => f.Message.Contains("[withdrawn]", StringComparison.Ordinal));
        Assert.All(left.Manifest.Accounts, a => Assert.True(a.Balances));
        Assert.Equal(1, RecordArchive.Read(At("after"), TestExport.WithChecks, WithdrawnIds.None).Withdrawn);
    }

    [Fact]
    public void Counts_add_up_over_several_removals()
    {
        using TestExport export = TestExport.Clean();
        Keep("archive", export.CheckAll());
        ArchiveWithdrawal.Apply(At("archive"), WithdrawnIds.Of("A-001"), Writing("one"));
        ArchiveWithdrawn second = ArchiveWithdrawal.Apply(At("one"), WithdrawnIds.Of("B-001"), Writing("two"));
        Assert.Equal((1, 2), (second.Participants, second.InAll));
        CheckedRecords records = RecordArchive.Read(At("two"), TestExport.WithChecks, WithdrawnIds.None);
        Assert.StartsWith("2 participants who withdrew consent were removed", Assert.Single(records.Findings, f => f.Rule == "consent.withdrawn").Message, StringComparison.Ordinal);
        RowAccount roster = records.Accounts.Single(a => a.Table == "participants");
        Assert.Equal((4, 2, 2), (roster.Read, roster.Used, roster.SetAside.Single(s => s.Rule == "consent.withdrawn").Rows));
    }

    [Fact]
    public void A_study_from_an_older_archive_leaves_them_out_when_told()
    {
        using TestExport export = Untidy();
        Keep("archive", export.CheckAll());
        ArchiveWithdrawal.Apply(At("archive"), WithdrawnIds.Of("A-001"), Writing("after"));
        CheckedRecords told = RecordArchive.Read(At("archive"), TestExport.WithChecks, WithdrawnIds.Of("A-001"));
        CheckedRecords removed = RecordArchive.Read(At("after"), TestExport.WithChecks, WithdrawnIds.None);
        Assert.Equal(removed.Findings.AsEnumerable(), told.Findings);
        Assert.Equal(removed.Tables.Select(t => t.Rows), told.Tables.Select(t => t.Rows));
    }

    /// <summary>An export where A-001 has faults of its own, and a finding about somebody else names A-001.</summary>
    private static TestExport Untidy() => TestExport.Clean()
        .Set("outcomes.csv", 2, "pain_0_10", "98")
        .Set("participants.csv", 2, "maturity", "NA")
        .AddRow("visits.csv", "A-001,baseline,0");

    private string At(params string[] parts) => Path.Combine([root, .. parts]);

    private void Keep(string name, CheckedRecords records)
    {
        StudyProtocol protocol = TestExport.WithChecks;
        RecordArchive.Write(protocol, records, "1", Writing(name));
    }

    private FileWriting Writing(string name)
    {
        Directory.CreateDirectory(At(name));
        return (file, fill) =>
        {
            using FileStream stream = new(At(name, file), FileMode.CreateNew, FileAccess.ReadWrite);
            fill(stream);
        };
    }
}
