using System.IO.Compression;
using System.Text;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Records;

namespace RotationStudy.Tests.Exports;

/// <summary>Files that are wrong on purpose or by the programs that wrote them: what each kind comes to.</summary>
public sealed class HostileExportTests
{
    [Fact]
    public void A_cell_beyond_measure_is_a_finding_of_its_line()
    {
        using TestExport export = TestExport.Clean();
        export.Set("outcomes.csv", 2, "knee_function_score", new string('7', 2_000_000));
        Finding finding = export.Check().Findings.First(f => f.Severity == Severity.Stop);
        Assert.Equal(("file.unreadable", "outcomes.csv", 2), (finding.Rule, finding.File, finding.Line));
    }

    [Fact]
    public void A_long_cell_counts_as_free_text_and_is_not_repeated()
    {
        using TestExport export = TestExport.Clean();
        Finding finding = Assert.Single(export.Set("outcomes.csv", 2, "knee_function_score", new string('-', 90)).Check().Findings);
        Assert.Equal("identity.free_text", finding.Rule);
        Assert.DoesNotContain("---", finding.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\u202E72.5")]
    [InlineData("72.5\u200B")]
    [InlineData("72\u0007.5")]
    [InlineData("７２.5")]
    [InlineData("<b>72.5</b>")]
    [InlineData("#N/A")]
    [InlineData("=72.5")]
    [InlineData("7 2.5")]
    [InlineData("1e999")]
    [InlineData("NaN")]
    [InlineData("0x48")]
    public void A_number_with_anything_else_in_its_cell_is_set_aside_and_shown_as_it_is(string cell)
    {
        using TestExport export = TestExport.Clean();
        CheckedRecords records = export.Set("outcomes.csv", 2, "knee_function_score", cell).Check();
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("type.number", "outcomes.csv", 2), (finding.Rule, finding.File, finding.Line));
        Assert.DoesNotContain('\u202E', finding.Message);
        Assert.DoesNotContain('\u200B', finding.Message);
        Assert.DoesNotContain('\u0007', finding.Message);
    }

    [Theory]
    [InlineData("А-001", "identifier.form")]
    [InlineData("A-O01", "participant.unknown")]
    [InlineData("A-001\u200F", "identifier.form")]
    [InlineData("a-001", "participant.unknown")]
    public void An_identifier_that_only_looks_like_one_belongs_to_nobody(string id, string rule)
    {
        using TestExport export = TestExport.Clean();
        CheckedRecords records = export.Set("outcomes.csv", 2, "participant_id", id).Check();
        Assert.Contains(records.Findings, f => f.Rule == rule && f.File == "outcomes.csv" && f.Line == 2);
        Assert.Equal(1, records.Accounts.Single(a => a.Table == "outcomes").SetAside.Sum(s => s.Rows));
    }

    [Theory]
    [InlineData(" knee_function_score")]
    [InlineData("Knee_Function_Score")]
    [InlineData("KNEE FUNCTION SCORE")]
    public void A_header_in_other_letters_is_not_guessed_at_and_the_near_name_is_said(string header)
    {
        using TestExport export = TestExport.Clean();
        export.SetLine("outcomes.csv", 1, $"participant_id,visit,{header},pain_0_10,activity_level_0_10");
        CheckedRecords records = export.Check();
        Assert.Contains(records.Findings, f => f.Rule == "header.unknown" && f.Column == header);
        Assert.Contains(records.Findings, f => f.Message.Contains("'knee_function_score'", StringComparison.Ordinal));
    }

    [Fact]
    public void Line_ends_of_other_systems_and_inside_cells_change_no_value()
    {
        using TestExport plain = TestExport.Clean();
        using TestExport other = TestExport.Clean();
        CheckedRecords expected = plain.Check();
        string text = string.Join("\r\n", other.Lines("outcomes.csv"));
        CheckedRecords found = other.SetBytes("outcomes.csv", Encoding.UTF8.GetBytes(text)).Check();
        Assert.Empty(found.Findings);
        Assert.Equal(((NumberColumn)expected["outcomes"]["pain_0_10"]).Values.ToArray(), ((NumberColumn)found["outcomes"]["pain_0_10"]).Values.ToArray());
    }

    [Fact]
    public void Lines_after_the_table_are_rows_with_too_few_cells()
    {
        using TestExport export = TestExport.Clean();
        int line = export.Lines("outcomes.csv").Count + 1;
        CheckedRecords records = export.AddRow("outcomes.csv", "Exported by the ward; 8 rows").Check();
        Assert.Equal(("row.fields", line), Assert.Single(records.Findings.Select(f => (f.Rule, f.Line))));
    }

    [Fact]
    public void A_file_of_nothing_but_ragged_rows_is_listed_in_part_and_counted_in_full()
    {
        using TestExport export = TestExport.Clean();
        for (int i = 0; i < 5000; i++)
            export.AddRow("milestones.csv", "A-001,L");
        CheckedRecords records = export.Check();
        Assert.Equal(1001, records.Findings.Count(f => f.Rule == "row.fields"));
        Assert.Contains(records.Findings, f => f.Message.StartsWith("5000 rows of milestones.csv", StringComparison.Ordinal));
        Assert.Equal(5000, records.Accounts.Single(a => a.Table == "milestones").SetAside.Single(s => s.Rule == "row.fields").Rows);
    }

    [Fact]
    public void A_column_that_is_wrong_in_every_row_is_listed_in_part_and_set_aside_in_full()
    {
        using TestExport export = TestExport.Clean();
        for (int i = 0; i < 10_500; i++)
            export.AddRow("events.csv", FormattableString.Invariant($"A-001,R,{1 + (i % 999)},1e9,dislocation,none"));
        CheckedRecords records = export.Check();
        Assert.Equal(10_001, records.Findings.Count(f => f is { Rule: "range.possible", Column: "event_day" }));
        Assert.Contains(records.Findings, f => f.Column == "event_day" && f.Message.StartsWith("500 more rows of events.csv", StringComparison.Ordinal));
        RecordColumn days = records["events"]["event_day"];
        Assert.Equal((999, 2), (days.Missing.Count(m => m != 0), days.Missing.Count(m => m == 0)));
    }

    [Theory]
    [InlineData("participants.csv")]
    [InlineData("outcomes.csv")]
    public void A_link_in_the_folder_of_an_archive_unpacks_as_no_link(string name)
    {
        string folder = Directory.CreateTempSubdirectory("rotationstudy-link-").FullName;
        try
        {
            string zip = Path.Combine(folder, "export.zip");
            using (ZipArchive archive = ZipFile.Open(zip, ZipArchiveMode.Create))
            {
                ZipArchiveEntry entry = archive.CreateEntry(name);
                // The mark of a symbolic link in archives of Unix systems.
                entry.ExternalAttributes = unchecked((int)0xA1FF0000);
                using Stream stream = entry.Open();
                stream.Write("/etc/passwd"u8);
            }
            CheckedRecords records = RecordChecker.Check(TestExport.Protocol, Study.Exports.ExportReader.Read(zip, TestExport.Protocol));
            Assert.True(records.MustStop);
            Assert.DoesNotContain(records.Findings, f => f.Message.Contains("root:", StringComparison.Ordinal));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
