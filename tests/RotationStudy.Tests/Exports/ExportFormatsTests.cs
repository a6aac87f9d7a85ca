using System.Globalization;
using System.IO.Compression;
using System.Text.Json;
using Parquet;
using Parquet.Schema;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;
using SpreadCheetah;

namespace RotationStudy.Tests.Exports;

/// <summary>One table in every format gives the same records; damaged files of each end in one finding.</summary>
public sealed class ExportFormatsTests : IDisposable
{
    private static readonly string Source = Path.Combine(Repository.Root, "protocols", "growth-example");
    private static readonly StudyProtocol Protocol = ProtocolReader.Read(Source);
    private static readonly string[] Lines = File.ReadAllLines(Path.Combine(Source, "example-exports", "growth.csv"));

    private readonly string folder = Directory.CreateTempSubdirectory("rotationstudy-formats-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData("growth.xlsx")]
    [InlineData("growth.parquet")]
    [InlineData("growth.json")]
    public async Task A_table_in_another_format_gives_the_same_records(string name)
    {
        await WriteAsync(name);
        CheckedRecords records = Check(folder);
        Assert.Empty(records.Findings);
        AssertSame(Check(Path.Combine(Source, "example-exports")), records);
        Assert.Equal(name, Assert.Single(records.Files).Name);
    }

    [Fact]
    public void A_zip_of_the_folder_gives_the_same_records_and_leaves_nothing_behind()
    {
        string zip = Path.Combine(folder, "export.zip");
        ZipFile.CreateFromDirectory(Path.Combine(Source, "example-exports"), zip, CompressionLevel.Fastest, includeBaseDirectory: true);
        AssertSame(Check(Path.Combine(Source, "example-exports")), Check(zip));
    }

    [Fact]
    public async Task A_table_in_two_formats_stops_since_nobody_can_tell_which_one_counts()
    {
        await WriteAsync("growth.json");
        File.Copy(Path.Combine(Source, "example-exports", "growth.csv"), Path.Combine(folder, "growth.csv"));
        Finding twice = Assert.Single(Check(folder).Findings, f => f.Rule == "file.twice");
        Assert.Contains("growth.csv and growth.json", twice.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("growth.xlsx")]
    [InlineData("growth.parquet")]
    [InlineData("growth.json")]
    public async Task Whatever_breaks_a_file_ends_in_findings(string name)
    {
        await WriteAsync(name);
        byte[] whole = await File.ReadAllBytesAsync(Path.Combine(folder, name));
        Random random = new(20261125);
        for (int trial = 0; trial < 60; trial++)
        {
            byte[] damaged = trial % 3 == 0 ? whole[..random.Next(whole.Length)] : [.. whole];
            for (int k = 0; trial % 3 != 0 && k < 1 + (trial % 4); k++)
                damaged[random.Next(damaged.Length)] = (byte)random.Next(256);
            await File.WriteAllBytesAsync(Path.Combine(folder, name), damaged);
            CheckedRecords records = Check(folder);
            Assert.All(records.Accounts, a => Assert.True(a.Balances));
            Assert.True(trial % 3 != 0 || records.MustStop, $"cut to {damaged.Length} of {whole.Length} bytes went unnoticed");
        }
    }

    [Theory]
    [InlineData("../growth.csv")]
    [InlineData("a/../../growth.csv")]
    [InlineData("/growth.csv")]
    [InlineData("a/b/growth.csv")]
    [InlineData("C:\\growth.csv")]
    [InlineData("gro\u0007wth.csv")]
    public void An_archive_entry_that_leads_elsewhere_is_refused(string entry)
    {
        string zip = Path.Combine(folder, "export.zip");
        using (ZipArchive archive = ZipFile.Open(zip, ZipArchiveMode.Create))
        {
            archive.CreateEntry("growth.csv");
            archive.CreateEntry(entry);
        }
        Assert.Equal("file.archive", Assert.Single(Check(zip).Findings, f => f.Severity == Severity.Stop && f.Rule.StartsWith("file.archive", StringComparison.Ordinal)).Rule);
    }

    [Fact]
    public void An_archive_that_unpacks_beyond_measure_is_refused_before_it_fills_the_disk()
    {
        string zip = Path.Combine(folder, "export.zip");
        using (ZipArchive archive = ZipFile.Open(zip, ZipArchiveMode.Create))
        {
            using Stream entry = archive.CreateEntry("growth.csv", CompressionLevel.SmallestSize).Open();
            byte[] blank = new byte[1 << 20];
            for (int i = 0; i < 80; i++)
                entry.Write(blank);
        }
        Assert.Contains("200 times", Assert.Single(Check(zip).Findings, f => f.Rule == "file.archive").Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_later_version_of_the_standard_is_not_guessed_at()
    {
        File.WriteAllText(Path.Combine(folder, "growth.json"), """{"datasetJSONVersion":"2.0","columns":[{"name":"age"}],"rows":[]}""");
        Assert.Contains("version 2.0", Assert.Single(Check(folder).Findings, f => f.Rule == "file.unreadable").Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Rows_before_columns_and_short_records_are_read_as_they_stand()
    {
        File.WriteAllText(
            Path.Combine(folder, "growth.json"),
            """{"rows":[[26,8,"M01","Male"],[25,10,"M01"]],"datasetJSONVersion":"1.1.0","columns":[{"name":"distance"},{"name":"age"},{"name":"Subject"},{"name":"Sex"}]}""");
        CheckedRecords records = Check(folder);
        Assert.Equal(1, records["growth"].Rows);
        Finding ragged = Assert.Single(records.Findings, f => f.Rule == "row.fields");
        Assert.Equal(("growth.json", 2), (ragged.File, ragged.Line));
    }

    private static CheckedRecords Check(string place) => RecordChecker.Check(Protocol, ExportReader.Read(place, Protocol));

    private static void AssertSame(CheckedRecords expected, CheckedRecords found)
    {
        RecordTable a = expected["growth"];
        RecordTable b = found["growth"];
        Assert.Equal(a.Rows, b.Rows);
        Assert.Equal(((NumberColumn)a["distance"]).Values.ToArray(), ((NumberColumn)b["distance"]).Values.ToArray());
        Assert.Equal(((NumberColumn)a["age"]).Values.ToArray(), ((NumberColumn)b["age"]).Values.ToArray());
        Assert.Equal(((IdentifierColumn)a["Subject"]).Values.ToArray(), ((IdentifierColumn)b["Subject"]).Values.ToArray());
        Assert.Equal(((CodeColumn)a["Sex"]).Indices.ToArray(), ((CodeColumn)b["Sex"]).Indices.ToArray());
    }

    private async Task WriteAsync(string name)
    {
        string[] header = [.. Lines[0].Split(',').Select(h => h.Trim('"'))];
        string[][] rows = [.. Lines[1..].Where(l => l.Length > 0).Select(l => l.Split(',').Select(c => c.Trim('"')).ToArray())];
        await using FileStream stream = File.Create(Path.Combine(folder, name));
        switch (Path.GetExtension(name))
        {
            case ".xlsx":
                await WriteWorkbookAsync(stream, header, rows);
                break;
            case ".parquet":
                await WriteParquetAsync(stream, header, rows);
                break;
            default:
                await JsonSerializer.SerializeAsync(stream, new
                {
                    datasetJSONCreationDateTime = "2026-01-01T00:00:00",
                    datasetJSONVersion = "1.1.0",
                    records = rows.Length,
                    name = "GROWTH",
                    columns = header.Select(h => new { itemOID = $"IT.{h}", name = h, label = h, dataType = "string" }),
                    rows = rows.Select(r => r.Select(c => double.TryParse(c, CultureInfo.InvariantCulture, out double number) ? (object)number : c)),
                });
                break;
        }
    }

    private static async Task WriteWorkbookAsync(Stream stream, string[] header, string[][] rows)
    {
        await using Spreadsheet sheet = await Spreadsheet.CreateNewAsync(stream);
        await sheet.StartWorksheetAsync("Growth");
        await sheet.AddRowAsync([.. header.Select(h => new DataCell(h))]);
        foreach (string[] row in rows)
        {
            await sheet.AddRowAsync([.. row.Select(c => double.TryParse(c, CultureInfo.InvariantCulture, out double number) ? new DataCell(number) : new DataCell(c))]);
        }
        await sheet.AddRowAsync([new DataCell(" ".Trim())]);
        await sheet.FinishAsync();
    }

    private static async Task WriteParquetAsync(Stream stream, string[] header, string[][] rows)
    {
        bool[] numeric = [.. header.Select((_, j) => rows.All(r => double.TryParse(r[j], CultureInfo.InvariantCulture, out double _)))];
        DataField[] fields = [.. header.Select((h, j) => numeric[j] ? (DataField)new DataField<double?>(h) : new DataField<string>(h))];
        await using ParquetWriter writer = await ParquetWriter.CreateAsync(new ParquetSchema(fields), stream, new ParquetOptions { CompressionLevel = CompressionLevel.Fastest });
        using ParquetRowGroupWriter group = writer.CreateRowGroup();
        for (int j = 0; j < header.Length; j++)
        {
            if (numeric[j])
                await group.WriteAsync<double>(fields[j], rows.Select(r => (double?)double.Parse(r[j], CultureInfo.InvariantCulture)).ToArray().AsMemory());
            else
                await group.WriteAsync(fields[j], rows.Select(r => r[j]).ToArray());
        }
        group.CompleteValidate();
    }
}
