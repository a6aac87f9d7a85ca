using System.IO.Compression;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Templates;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Templates;

/// <summary>The template is filled in as a site would, and the checks have nothing to say.</summary>
public sealed partial class SiteTemplateTests : Workspace
{
    private static readonly XNamespace Sheet = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";

    [Fact]
    public void Filled_in_CSV_files_are_read_without_findings() => FilledIn("csv", ".csv", (path, rows) => File.AppendAllLines(path, rows.Select(r => string.Join(',', r))));

    [Fact]
    public void Filled_in_workbooks_are_read_without_findings() => FilledIn("workbooks", ".xlsx", FillWorkbook);

    [Fact]
    public void A_workbook_offers_the_codes_and_holds_numbers_to_their_range()
    {
        Dictionary<string, byte[]> files = SiteTemplate.Files(TestExport.Protocol).ToDictionary(f => f.Name, f => f.Content);
        using ZipArchive zip = new(new MemoryStream(files["workbooks/participants.xlsx"]));
        XElement sheet = XDocument.Load(zip.GetEntry("xl/worksheets/sheet1.xml")!.Open()).Root!;
        Dictionary<string, XElement> rules = sheet.Descendants(Sheet + "dataValidation").ToDictionary(v => (string)v.Attribute("sqref")!);
        Assert.Equal("list", (string?)rules["C2:C5001"].Attribute("type"));
        Assert.Contains("F,M", rules["C2:C5001"].Value, StringComparison.Ordinal);
        Assert.Equal("decimal", (string?)rules["D2:D5001"].Attribute("type"));
        Assert.Equal("089", rules["D2:D5001"].Value);
        Assert.Contains("in years", (string?)rules["D2:D5001"].Attribute("prompt"), StringComparison.Ordinal);
        Assert.Contains("never a name", (string?)rules["A2:A5001"].Attribute("prompt"), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_shipped_protocol_has_a_template_that_says_what_never_to_send()
    {
        foreach (string folder in Directory.EnumerateDirectories(Path.Combine(Repository.Root, "protocols")))
        {
            StudyProtocol protocol = ProtocolReader.Read(folder);
            Dictionary<string, byte[]> files = SiteTemplate.Files(protocol).ToDictionary(f => f.Name, f => f.Content);
            Assert.Equal(2 + (2 * protocol.Tables.Length), files.Count);
            Assert.Contains("Never send: names", Encoding.UTF8.GetString(files["read-me.txt"]), StringComparison.Ordinal);
            Assert.Equal(files.Values.Select(Convert.ToHexString), SiteTemplate.Files(protocol).Select(f => Convert.ToHexString(f.Content)));
        }
    }

    [Fact]
    public void A_folder_that_holds_files_is_left_alone()
    {
        File.WriteAllText(At("filled.csv"), "work of a week");
        CommandLineRun run = CommandLineRun.Of("template", Protocol, "--to", Root);
        Assert.Equal(4, run.ExitCode);
        Assert.Contains("holds files already", run.Error, StringComparison.Ordinal);
        Assert.Equal([At("filled.csv")], Directory.EnumerateFileSystemEntries(Root));
    }

    private void FilledIn(string form, string ending, Action<string, IEnumerable<string[]>> fill)
    {
        CommandLineRun made = CommandLineRun.Of("template", Protocol, "--to", At("template"));
        Assert.True(made.ExitCode == 0, made.Error);
        using TestExport clean = TestExport.Clean();
        foreach (TableDefinition table in TestExport.Protocol.Tables)
        {
            string path = At("template", form, Path.ChangeExtension(table.File, ending));
            if (!clean.Has(table.File))
            {
                File.Delete(path);
                continue;
            }
            string[] header = clean.Lines(table.File)[0].Split(',');
            int[] at = [.. table.Columns.Select(c => Array.IndexOf(header, c.Name))];
            fill(path, clean.Lines(table.File).Skip(1).Select(l => l.Split(',')).Select(cells => Array.ConvertAll(at, a => a < 0 ? string.Empty : cells[a])));
        }
        // The few invented rows repeat each other, which checks of this study ask about; the rules of every study have nothing to say.
        CommandLineRun run = CommandLineRun.Of("examine", ProtocolWithoutChecks(), At("template", form));
        Assert.True(run.ExitCode == 0, run.Error);
        Assert.DoesNotContain(" found", run.Output, StringComparison.Ordinal);
        Assert.Contains("4 rows read, 4 used", run.Output, StringComparison.Ordinal);
    }

    private string ProtocolWithoutChecks()
    {
        string folder = CopyProtocol();
        File.Delete(Path.Combine(folder, "checks.yaml"));
        return folder;
    }

    /// <summary>Types rows below the header of the first sheet: numbers as numbers, everything else as text.</summary>
    private static void FillWorkbook(string path, IEnumerable<string[]> rows)
    {
        using ZipArchive zip = ZipFile.Open(path, ZipArchiveMode.Update);
        ZipArchiveEntry entry = zip.GetEntry("xl/worksheets/sheet1.xml")!;
        XDocument document;
        using (Stream read = entry.Open())
            document = XDocument.Load(read);
        XElement data = document.Root!.Element(Sheet + "sheetData")!;
        int number = 1;
        foreach (string[] row in rows)
            data.Add(new XElement(Sheet + "row", new XAttribute("r", ++number), row.Select((cell, c) => Cell(cell, $"{Letters(c)}{number}")).OfType<XElement>()));
        using Stream write = entry.Open();
        write.SetLength(0);
        document.Save(write);
    }

    private static XElement? Cell(string text, string reference)
        => text.Length == 0 ? null
            : Number().IsMatch(text) ? new XElement(Sheet + "c", new XAttribute("r", reference), new XElement(Sheet + "v", text))
            : new XElement(Sheet + "c", new XAttribute("r", reference), new XAttribute("t", "inlineStr"), new XElement(Sheet + "is", new XElement(Sheet + "t", text)));

    private static string Letters(int column) => column < 26 ? $"{(char)('A' + column)}" : $"A{(char)('A' + column - 26)}";

    [GeneratedRegex(@"^-?[0-9]+(\.[0-9]+)?$")]
    private static partial Regex Number();
}
