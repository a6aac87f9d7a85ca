using System.Text;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;

namespace RotationStudy.Tests.Exports;

/// <summary>Files that cannot be read as tables: each is said clearly, with file and line, and nothing is guessed.</summary>
public sealed class ExportReaderTests
{
    [Fact]
    public void A_missing_required_file_stops_and_names_the_nearest_file()
    {
        using TestExport export = TestExport.Clean().RemoveFile("visits.csv").SetBytes("visit.csv", "participant_id,visit,visit_day\n"u8.ToArray());
        CheckedRecords records = export.Check();
        Finding missing = Assert.Single(records.Findings, f => f.Rule == "file.missing");
        Assert.Equal((Severity.Stop, "visits.csv", 0), (missing.Severity, missing.File, missing.Line));
        Assert.Equal("The file visits.csv (Visits) is missing. Is it the file called visit.csv?", missing.Message);
        Assert.Contains(records.Findings, f => f.Rule == "file.unknown" && f.File == "visit.csv" && f.Message.EndsWith("Did you mean 'visits.csv'?", StringComparison.Ordinal));
        Assert.True(records.MustStop);
    }

    [Fact]
    public void A_missing_optional_file_is_no_finding()
    {
        using TestExport export = TestExport.Clean().RemoveFile("milestones.csv");
        CheckedRecords records = export.Check();
        Assert.Empty(records.Findings);
        Assert.Equal(0, records["milestones"].Rows);
        Assert.Equal(7, records.Accounts.Length);
    }

    [Fact]
    public void A_missing_folder_is_named()
    {
        DirectoryNotFoundException e = Assert.Throws<DirectoryNotFoundException>(() => ExportReader.Read("no-such-folder", TestExport.Protocol));
        Assert.Equal("There is no export folder 'no-such-folder'.", e.Message);
    }

    [Theory]
    [InlineData("")]
    [InlineData("\n  \r\n")]
    [InlineData("\uFEFF")]
    public void An_empty_file_stops(string content)
    {
        Finding finding = StopOf(TestExport.Clean().SetBytes("events.csv", Encoding.UTF8.GetBytes(content)));
        Assert.Equal(("file.empty", "events.csv"), (finding.Rule, finding.File));
        Assert.Equal("events.csv is empty. Send it again; a table without rows still has its header.", finding.Message);
    }

    [Theory]
    [InlineData(';', "semicolons")]
    [InlineData('\t', "tabs")]
    [InlineData('|', "upright strokes")]
    public void Another_separator_is_recognized_and_stops(char separator, string words)
    {
        TestExport export = TestExport.Clean();
        string text = string.Join('\n', export.Lines("visits.csv")).Replace(',', separator);
        Finding finding = StopOf(export.SetBytes("visits.csv", Encoding.UTF8.GetBytes(text)));
        Assert.Equal(("file.separator", "visits.csv", 1), (finding.Rule, finding.File, finding.Line));
        Assert.Equal($"visits.csv is separated by {words}. Save it with commas between cells and a point in decimal numbers.", finding.Message);
    }

    [Fact]
    public void Single_byte_letters_stop_with_the_line_and_byte()
    {
        TestExport export = TestExport.Clean();
        byte[] text = Encoding.Latin1.GetBytes(string.Join('\n', export.Lines("participants.csv")).Replace("A-002", "Zoé-2", StringComparison.Ordinal));
        Finding finding = StopOf(export.SetBytes("participants.csv", text));
        Assert.Equal(("file.encoding", 3), (finding.Rule, finding.Line));
        Assert.StartsWith("Line 3 of participants.csv holds the byte E9, which is no UTF-8.", finding.Message, StringComparison.Ordinal);
        Assert.Null(finding.Value);
    }

    [Fact]
    public void Zero_bytes_stop_with_the_line()
    {
        Finding finding = StopOf(TestExport.Clean().SetBytes("visits.csv", "participant_id,visit,visit_day\nA-001,base\0line,0\n"u8.ToArray()));
        Assert.Equal(("file.encoding", 2), (finding.Rule, finding.Line));
    }

    [Theory]
    [InlineData("utf-8")]
    [InlineData("utf-16")]
    [InlineData("utf-16BE")]
    public void Text_with_a_mark_reads_the_same(string encoding)
    {
        TestExport export = TestExport.Clean();
        Encoding marked = Encoding.GetEncoding(encoding);
        byte[] text = [.. marked.GetPreamble(), .. marked.GetBytes(string.Join("\r\n", export.Lines("visits.csv")))];
        using (export.SetBytes("visits.csv", text))
        {
            CheckedRecords records = export.Check();
            Assert.Empty(records.Findings);
            Assert.Equal(8, records["visits"].Rows);
        }
    }

    [Theory]
    [InlineData("A-001,\"baseline,0\nA-002,baseline,0\n")]
    [InlineData("A-001,base\"line,0\nA-002,baseline,0\n")]
    [InlineData("A-001,\"base\"line,0\nA-002,baseline,0\n")]
    public void Broken_quoting_stops_with_the_line(string rows)
    {
        Finding finding = StopOf(TestExport.Clean().SetBytes("visits.csv", Encoding.UTF8.GetBytes("participant_id,visit,visit_day\n" + rows)));
        Assert.Equal(("file.quoting", 2), (finding.Rule, finding.Line));
        Assert.StartsWith("From line 2 on, visits.csv cannot be read", finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_required_column_stops_and_names_the_nearest_one()
    {
        TestExport export = TestExport.Clean();
        export.SetLine("visits.csv", 1, "participant_id,Visit,visit_day");
        Finding finding = StopOf(export);
        Assert.Equal(("header.missing", "visits.csv", 1, "visit"), (finding.Rule, finding.File, finding.Line, finding.Column));
        Assert.Equal("visits.csv has no column 'visit'. Is it the column called 'Visit'? Nothing can be analysed without it.", finding.Message);
    }

    [Fact]
    public void A_missing_optional_column_is_asked_about_and_missing_for_every_row()
    {
        using TestExport export = TestExport.Clean().RemoveColumn("participants.csv", "height_cm");
        CheckedRecords records = export.Check();
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("header.absent", Severity.AskTheSite, "height_cm"), (finding.Rule, finding.Severity, finding.Column));
        Assert.Equal("column not in the export", records["participants"]["height_cm"].MissingReason(0));
    }

    [Fact]
    public void An_extra_column_is_asked_about_and_not_read()
    {
        TestExport export = TestExport.Clean();
        for (int line = 1; line <= export.Lines("visits.csv").Count; line++)
            export.SetLine("visits.csv", line, export.Lines("visits.csv")[line - 1] + (line == 1 ? ",note" : ",x"));
        using (export)
        {
            CheckedRecords records = export.Check();
            Finding finding = Assert.Single(records.Findings);
            Assert.Equal(("header.unknown", Severity.AskTheSite, "note"), (finding.Rule, finding.Severity, finding.Column));
            Assert.Equal(8, records["visits"].Rows);
        }
    }

    [Fact]
    public void A_column_that_stands_twice_stops()
    {
        TestExport export = TestExport.Clean().SetLine("visits.csv", 1, "participant_id,visit,visit");
        using (export)
            Assert.Contains(export.Check().Findings, f => f is { Rule: "header.duplicate", Severity: Severity.Stop, Line: 1, Column: "visit" });
    }

    [Theory]
    [InlineData("A-001,month_24", "has 2 cells, the header has 3. The row may have been cut off.")]
    [InlineData("A-001,month_24,730,5", "has 4 cells, the header has 3. A decimal comma, or a comma inside a text")]
    public void A_row_with_too_many_or_too_few_cells_is_set_aside(string row, string message)
    {
        using TestExport export = TestExport.Clean().AddRow("visits.csv", row);
        CheckedRecords records = export.Check();
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("row.fields", Severity.SetAside, "visits.csv", 10), (finding.Rule, finding.Severity, finding.File, finding.Line));
        Assert.Contains(message, finding.Message, StringComparison.Ordinal);
        RowAccount account = Assert.Single(records.Accounts, a => a.Table == "visits");
        Assert.Equal((9, 8), (account.Read, account.Used));
        Assert.Equal(new RuleCount("row.fields", 1), Assert.Single(account.SetAside));
    }

    [Fact]
    public void Quoted_cells_line_breaks_and_blank_lines_keep_their_line_numbers()
    {
        TestExport export = TestExport.Clean();
        export.SetBytes("visits.csv", "participant_id,visit,visit_day\r\n\r\n\"A-001\",\"base\r\nline\",0\r\nA-002,baseline,x\r\n"u8.ToArray());
        using (export)
        {
            CheckedRecords records = export.Check();
            Assert.Contains(records.Findings, f => f is { Rule: "code.unknown", Line: 3, Value: "base[U+000D][U+000A]line" });
            Assert.Contains(records.Findings, f => f is { Rule: "type.number", Line: 5, Value: "x" });
        }
    }

    [Fact]
    public void A_link_out_of_the_folder_is_not_followed()
    {
        using TestExport elsewhere = TestExport.Clean();
        elsewhere.Read();
        using TestExport export = TestExport.Clean().RemoveFile("visits.csv");
        File.CreateSymbolicLink(Path.Combine(export.Folder, "visits.csv"), Path.Combine(elsewhere.Folder, "visits.csv"));
        Assert.Contains(export.Check().Findings, f => f is { Rule: "file.outside", Severity: Severity.Stop, File: "visits.csv" });
    }

    [Fact]
    public void Hashes_are_those_of_the_bytes()
    {
        using TestExport export = TestExport.Clean().SetBytes("events.csv", "participant_id,side,event_no,event_day,event_kind,operation_kind\n"u8.ToArray());
        ExportFolder read = export.Read();
        string expected = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(Path.Combine(export.Folder, "events.csv"))));
        Assert.Equal(expected, Assert.Single(read.Hashes, h => h.Name == "events.csv").Sha256);
        Assert.Equal(8, read.Hashes.Length);
    }

    private static Finding StopOf(TestExport export)
    {
        using (export)
        {
            CheckedRecords records = export.Check();
            Assert.True(records.MustStop);
            return Assert.Single(records.Findings, f => f.Severity == Severity.Stop);
        }
    }
}
