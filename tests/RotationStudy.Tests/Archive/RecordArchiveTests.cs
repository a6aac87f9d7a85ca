using System.Text;
using Parquet;
using RotationStudy.Report.Record;
using RotationStudy.Study.Archive;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;
using RotationStudy.Study.Withdrawal;

namespace RotationStudy.Tests.Archive;

/// <summary>An archive gives back the checked records to the bit, and refuses whatever was changed.</summary>
public sealed class RecordArchiveTests : IDisposable
{
    private readonly string root = Directory.CreateTempSubdirectory("rotationstudy-archive-").FullName;

    private string Folder => Path.Combine(root, "archive");

    public void Dispose() => Directory.Delete(root, recursive: true);

    [Fact]
    public void What_is_read_equals_what_was_written_values_reasons_findings_and_accounts()
    {
        using TestExport export = Untidy();
        CheckedRecords written = export.CheckAll();
        Keep(written);
        CheckedRecords read = RecordArchive.Read(Folder, TestExport.WithChecks, WithdrawnIds.None);
        Assert.Equal(written.Findings.Length, read.Findings.Length);
        Assert.All(written.Findings.Zip(read.Findings), p => Assert.Equal(p.First, p.Second));
        Assert.Equal(written.Files.ToArray(), read.Files);
        Assert.Equal(written.Accounts.Select(Text), read.Accounts.Select(Text));
        Assert.Equal(written.Tables.Length, read.Tables.Length);
        foreach ((RecordTable one, RecordTable other) in written.Tables.Zip(read.Tables))
        {
            Assert.Equal(one.Rows, other.Rows);
            Assert.Equal(one.SourceLines.ToArray(), other.SourceLines);
            foreach ((RecordColumn a, RecordColumn b) in one.Columns.Zip(other.Columns))
                AssertSame(a, b, one.Rows);
        }
        Assert.Contains(written["knee_exams"].Columns.SelectMany(c => c.MissingReasons), r => r.StartsWith("value set aside", StringComparison.Ordinal));
    }

    [Fact]
    public void The_same_records_give_the_same_bytes()
    {
        using TestExport export = Untidy();
        Keep(export.CheckAll());
        Dictionary<string, byte[]> first = Directory.EnumerateFiles(Folder).ToDictionary(f => Path.GetFileName(f), File.ReadAllBytes);
        Keep(export.CheckAll());
        Assert.Equal(first.Count, Directory.EnumerateFiles(Folder).Count());
        Assert.All(first, f => Assert.Equal(f.Value, File.ReadAllBytes(Path.Combine(Folder, f.Key))));
    }

    [Fact]
    public async Task Another_reader_finds_typed_columns_with_units_and_descriptions()
    {
        using TestExport export = Untidy();
        Keep(export.CheckAll());
        await using ParquetReader reader = await ParquetReader.CreateAsync(Path.Combine(Folder, "participants.parquet"));
        Assert.Equal("Participants", reader.CustomMetadata["label"]);
        Assert.Contains("\"name\":\"age_years\",\"label\":\"Age at enrolment\",\"type\":\"number\"", reader.CustomMetadata["columns"], StringComparison.Ordinal);
        Assert.Contains("\"unit\":\"years\"", reader.CustomMetadata["columns"], StringComparison.Ordinal);
        Assert.Contains("\"codes\":{\"F\":\"female\",\"M\":\"male\"}", reader.CustomMetadata["columns"], StringComparison.Ordinal);
        Assert.Equal(typeof(double), reader.Schema.FindDataField("age_years").ClrType);
        Assert.Equal(typeof(long), reader.Schema.FindDataField("last_contact_day").ClrType);
        Assert.Equal(typeof(ReadOnlyMemory<char>), reader.Schema.FindDataField("sex").ClrType);
    }

    [Theory]
    [InlineData("participants.parquet", "was changed after the archive was made")]
    [InlineData("findings.parquet", "was changed after the archive was made")]
    [InlineData("archive.json", "do not agree")]
    [InlineData("archive.sha256", "do not agree")]
    public void One_changed_byte_is_refused_by_name(string file, string words)
    {
        using TestExport export = Untidy();
        Keep(export.CheckAll());
        string path = Path.Combine(Folder, file);
        byte[] bytes = File.ReadAllBytes(path);
        int at = file == "archive.json" ? bytes.AsSpan().IndexOf("\"rows\": "u8) + 8 : bytes.Length / 2;
        bytes[at] = bytes[at] == (byte)'1' ? (byte)'2' : (byte)'1';
        File.WriteAllBytes(path, bytes);
        ArchiveError error = Assert.Throws<ArchiveError>(() => RecordArchive.Read(Folder, TestExport.WithChecks, WithdrawnIds.None));
        Assert.Contains(words, error.What, StringComparison.Ordinal);
        Assert.Contains("anew", error.Hint, StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_file_is_refused_by_name()
    {
        using TestExport export = Untidy();
        Keep(export.CheckAll());
        File.Delete(Path.Combine(Folder, "events.parquet"));
        ArchiveError error = Assert.Throws<ArchiveError>(() => RecordArchive.Read(Folder, TestExport.WithChecks, WithdrawnIds.None));
        Assert.EndsWith("events.parquet", error.Path, StringComparison.Ordinal);
    }

    [Fact]
    public void A_manifest_that_is_cut_short_is_damaged_not_a_crash()
    {
        using TestExport export = Untidy();
        Keep(export.CheckAll());
        string path = Path.Combine(Folder, "archive.json");
        File.WriteAllText(path, File.ReadAllText(path)[..200], new UTF8Encoding(false));
        Assert.Contains("damaged", Assert.Throws<ArchiveError>(() => RecordArchive.Read(Folder, TestExport.WithChecks, WithdrawnIds.None)).What, StringComparison.Ordinal);
    }

    [Fact]
    public void Other_tables_are_refused_by_name_and_another_plan_is_not()
    {
        using TestExport export = Untidy();
        Keep(export.CheckAll());
        Assert.NotNull(RecordArchive.Read(Folder, Changed("plan.yaml"), WithdrawnIds.None));
        Assert.NotNull(RecordArchive.Read(Folder, Changed("measures.yaml"), WithdrawnIds.None));
        ArchiveError error = Assert.Throws<ArchiveError>(() => RecordArchive.Read(Folder, Changed("tables.yaml"), WithdrawnIds.None));
        Assert.Contains("tables.yaml is not the same", error.What, StringComparison.Ordinal);
        StudyProtocol gate = TestExport.WithChecks;
        gate = gate with { Plan = gate.Plan with { HipGate = gate.Plan.HipGate! with { ClearCodes = ["free", "painful"] } } };
        Assert.Contains("hip_gate", Assert.Throws<ArchiveError>(() => RecordArchive.Read(Folder, gate, WithdrawnIds.None)).What, StringComparison.Ordinal);
    }

    [Fact]
    public void Writing_that_ends_early_leaves_the_earlier_archive_as_it_was()
    {
        using TestExport export = Untidy();
        CheckedRecords records = export.CheckAll();
        Keep(records);
        string before = File.ReadAllText(Path.Combine(Folder, "archive.sha256"));
        int files = 0;
        using (ArchiveFolder folder = ArchiveFolder.Open(Folder, overwrite: true))
        {
            Assert.Throws<IOException>(() => RecordArchive.Write(TestExport.WithChecks, records, "2", (name, fill) =>
            {
                if (++files == 3)
                    throw new IOException("the disk is gone");
                folder.Write(name, fill);
            }));
        }
        Assert.Equal(before, File.ReadAllText(Path.Combine(Folder, "archive.sha256")));
        Assert.Equal([Folder], Directory.EnumerateFileSystemEntries(root));
        Assert.NotNull(RecordArchive.Read(Folder, TestExport.WithChecks, WithdrawnIds.None));
    }

    [Fact]
    public void Records_that_must_stop_are_not_kept()
    {
        using TestExport export = TestExport.Clean().RemoveFile("visits.csv");
        Assert.Throws<InvalidOperationException>(() => Keep(export.CheckAll()));
    }

    /// <summary>An export with a duplicate, an impossible value, an empty cell, a code for missing and an unknown code.</summary>
    private static TestExport Untidy() => TestExport.Clean()
        .Set("knee_exams.csv", 2, "hip_internal_rotation_deg", "520")
        .Set("knee_exams.csv", 3, "apprehension", "")
        .Set("knee_exams.csv", 4, "tracking_sign", "strange")
        .Set("participants.csv", 2, "maturity", "NA")
        .Set("outcomes.csv", 2, "knee_function_score", "71.3")
        .AddRow("visits.csv", "A-001,baseline,0")
        .AddRow("events.csv", "Z-999,L,1,20,dislocation,none");

    private static StudyProtocol Changed(string file)
    {
        StudyProtocol protocol = TestExport.WithChecks;
        return protocol with { Files = [.. protocol.Files.Select(f => f.Name == file ? f with { Sha256 = new string('0', 64) } : f)] };
    }

    private static void AssertSame(RecordColumn one, RecordColumn other, int rows)
    {
        Assert.Equal(one.GetType(), other.GetType());
        Assert.Equal(one.MissingReasons.ToArray(), other.MissingReasons);
        for (int row = 0; row < rows; row++)
            Assert.Equal(one.MissingReason(row), other.MissingReason(row));
        switch (one)
        {
            case NumberColumn number:
                Assert.Equal(number.Values.Select(BitConverter.DoubleToInt64Bits), ((NumberColumn)other).Values.Select(BitConverter.DoubleToInt64Bits));
                break;
            case CodeColumn code:
                Assert.Equal(code.Indices.ToArray(), ((CodeColumn)other).Indices);
                break;
            case IdentifierColumn text:
                Assert.Equal(text.Values.ToArray(), ((IdentifierColumn)other).Values);
                break;
        }
    }

    private static string Text(RowAccount a) => $"{a.File} {a.Table} {a.Read} {a.Used} {string.Join(",", a.SetAside)}";

    private void Keep(CheckedRecords records)
    {
        using ArchiveFolder folder = ArchiveFolder.Open(Folder, overwrite: true);
        RecordArchive.Write(TestExport.WithChecks, records, "1", folder.Write);
        folder.Complete();
    }
}
