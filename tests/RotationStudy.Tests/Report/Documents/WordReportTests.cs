using System.IO.Compression;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Validation;
using DocumentFormat.OpenXml.Wordprocessing;
using RotationStudy.Report.Documents;
using RotationStudy.Report.Documents.Word;

namespace RotationStudy.Tests.Report.Documents;

public class WordReportTests
{
    private static readonly Paper Sample = PaperReaderTests.ReadSample();
    private static readonly byte[] File = WordReport.Write(Sample);

    [Fact]
    public void Two_writes_give_the_same_bytes_and_parts_have_no_time()
    {
        Assert.True(File.AsSpan().SequenceEqual(WordReport.Write(Sample)));
        using ZipArchive zip = new(new MemoryStream(File));
        Assert.All(zip.Entries, e => Assert.Equal(1980, e.LastWriteTime.Year));
        Assert.DoesNotContain(zip.Entries, e => Read(e).Contains("dcterms:", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("the sample")]
    [InlineData("hostile text")]
    [InlineData("long labels everywhere")]
    [InlineData("nothing answered")]
    public void The_validator_of_the_format_finds_nothing(string name)
    {
        using WordprocessingDocument document = Open(WordReport.Write(PaperReaderTests.ReadCase(name)));
        ValidationErrorInfo[] errors = [.. new OpenXmlValidator(FileFormatVersions.Microsoft365).Validate(document)];
        Assert.True(errors.Length == 0, string.Join('\n', errors.Take(5).Select(e => $"{e.Part?.Uri}: {e.Description} {e.Path?.XPath}")));
    }

    [Fact]
    public void Every_word_of_the_paper_is_in_it()
    {
        using WordprocessingDocument document = Open(File);
        string text = string.Join('\n', document.MainDocumentPart!.Document!.Body!.Descendants<Paragraph>().Select(p => string.Concat(p.Descendants<Text>().Select(t => t.Text))));
        Assert.All(Sample.Blocks.SelectMany(PaperReaderTests.WordsOf), w => Assert.Contains(w, text, StringComparison.Ordinal));
    }

    [Fact]
    public void Tables_have_the_style_of_the_study_and_a_head_that_repeats()
    {
        using WordprocessingDocument document = Open(File);
        Table[] tables = [.. document.MainDocumentPart!.Document!.Body!.Elements<Table>()];
        Assert.Equal(Sample.Blocks.OfType<PaperTable>().Count(), tables.Length);
        Assert.All(tables, t => Assert.Equal("StudyTable", t.GetFirstChild<TableProperties>()!.TableStyle!.Val!.Value));
        Assert.All(tables, t => Assert.NotNull(t.Elements<TableRow>().First().TableRowProperties!.GetFirstChild<TableHeader>()));
        Assert.All(tables, t => Assert.True(t.GetFirstChild<TableGrid>()!.Elements<GridColumn>().Sum(c => int.Parse(c.Width!.Value!, System.Globalization.CultureInfo.InvariantCulture)) <= 9650));
    }

    [Fact]
    public void Every_figure_has_its_description_and_every_link_a_target()
    {
        using WordprocessingDocument document = Open(File);
        Body body = document.MainDocumentPart!.Document!.Body!;
        string[] described = [.. body.Descendants<DocumentFormat.OpenXml.Drawing.Wordprocessing.DocProperties>().Select(d => d.Description!.Value!)];
        Assert.Equal(Sample.Blocks.OfType<PaperPicture>().Select(p => OfficeFile.Text(p.Figure.AlternativeText)), described);
        HashSet<string> targets = [.. body.Descendants<BookmarkStart>().Select(b => b.Name!.Value!)];
        Assert.All(body.Descendants<Hyperlink>(), l => Assert.Contains(l.Anchor!.Value!, targets));
    }

    [Fact]
    public void Looks_stand_in_styles_that_exist()
    {
        using WordprocessingDocument document = Open(File);
        HashSet<string> styles = [.. document.MainDocumentPart!.StyleDefinitionsPart!.Styles!.Elements<Style>().Select(s => s.StyleId!.Value!)];
        Assert.All(document.MainDocumentPart.Document!.Descendants<ParagraphStyleId>(), s => Assert.Contains(s.Val!.Value!, styles));
        Assert.DoesNotContain(document.MainDocumentPart.Document!.Descendants<RunProperties>(), r => r.FontSize is not null || r.Color is not null);
    }

    private static WordprocessingDocument Open(byte[] file)
    {
        MemoryStream stream = new(file);
        return WordprocessingDocument.Open(stream, isEditable: false);
    }

    private static string Read(ZipArchiveEntry entry)
    {
        using StreamReader reader = new(entry.Open());
        return reader.ReadToEnd();
    }
}
