using System.IO.Compression;
using System.Text;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Exports;

/// <summary>Workbooks: formulas that failed, entities, and parts that unpack beyond measure.</summary>
public sealed class WorkbookTests : IDisposable
{
    private const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private const string Office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

    private static readonly StudyProtocol Protocol = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "growth-example"));

    private readonly string folder = Directory.CreateTempSubdirectory("rotationstudy-workbook-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData("#N/A")]
    [InlineData("#DIV/0!")]
    [InlineData("#REF!")]
    public void A_formula_that_failed_is_a_finding_and_no_empty_cell(string error)
    {
        Finding finding = Assert.Single(Check($"<c r=\"A2\" t=\"e\"><f>1/0</f><v>{error}</v></c>").Findings);
        Assert.Equal(("type.number", "growth.xlsx", 2, error), (finding.Rule, finding.File, finding.Line, finding.Value));
    }

    [Fact]
    public void A_failed_formula_without_places_is_found_too()
    {
        Finding finding = Assert.Single(Check("<c t='e'><v>#N/A</v></c>").Findings);
        Assert.Equal(("type.number", 2), (finding.Rule, finding.Line));
    }

    [Fact]
    public void Entities_are_not_expanded()
    {
        CheckedRecords records = Check("<c r=\"A2\"><v>26</v></c>", "<!DOCTYPE worksheet [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">]>");
        Assert.Equal("file.unreadable", Assert.Single(records.Findings, f => f.Severity == Severity.Stop).Rule);
    }

    [Fact]
    public void A_workbook_that_unpacks_beyond_measure_is_refused_before_it_is_unpacked()
    {
        Write("<c r=\"A2\"><v>26</v></c>", string.Empty, archive =>
        {
            using Stream part = archive.CreateEntry("xl/sharedStrings.xml", CompressionLevel.SmallestSize).Open();
            byte[] blank = Encoding.ASCII.GetBytes(new string(' ', 1 << 20));
            for (int i = 0; i < 80; i++)
                part.Write(blank);
        });
        Assert.Contains("unpacks to more", Assert.Single(Read().Findings, f => f.Severity == Severity.Stop).Message, StringComparison.Ordinal);
    }

    private CheckedRecords Check(string cell, string declaration = "")
    {
        Write(cell, declaration, _ => { });
        return Read();
    }

    private CheckedRecords Read() => RecordChecker.Check(Protocol, ExportReader.Read(folder, Protocol));

    private void Write(string cell, string declaration, Action<ZipArchive> more)
    {
        using ZipArchive archive = ZipFile.Open(Path.Combine(folder, "growth.xlsx"), ZipArchiveMode.Create);
        Part("xl/workbook.xml", $"<workbook xmlns=\"{Main}\" xmlns:r=\"{Office}\"><sheets><sheet name=\"Growth\" sheetId=\"1\" r:id=\"a\"/></sheets></workbook>");
        Part("xl/_rels/workbook.xml.rels", $"<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"a\" Type=\"{Office}/worksheet\" Target=\"worksheets/sheet1.xml\"/></Relationships>");
        Part("xl/worksheets/sheet1.xml", declaration + $"<worksheet xmlns=\"{Main}\"><sheetData><row>{Text("distance")}{Text("age")}{Text("Subject")}{Text("Sex")}</row><row>{cell}<c><v>8</v></c>{Text("M01")}{Text("Male")}</row></sheetData></worksheet>");
        more(archive);

        void Part(string name, string xml)
        {
            using Stream part = archive.CreateEntry(name).Open();
            part.Write(Encoding.UTF8.GetBytes(xml));
        }
    }

    private static string Text(string text) => $"<c t=\"inlineStr\"><is><t>{text}</t></is></c>";
}
