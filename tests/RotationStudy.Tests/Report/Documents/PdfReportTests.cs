using System.Collections.Immutable;
using System.Text;
using PdfSharp.Pdf;
using PdfSharp.Pdf.IO;
using RotationStudy.Report.Documents;
using RotationStudy.Report.Documents.Pdf;

namespace RotationStudy.Tests.Report.Documents;

public class PdfReportTests
{
    private static readonly Paper Sample = PaperReaderTests.ReadSample();
    private static readonly byte[] File = PdfReport.Write(Sample);
    private static readonly string Text = Encoding.Latin1.GetString(File);

    [Fact]
    public void Two_writes_give_the_same_bytes_and_hold_no_date()
    {
        Assert.True(File.AsSpan().SequenceEqual(PdfReport.Write(Sample)));
        Assert.DoesNotMatch(@"\(D:\d{8}", Text);
        Assert.DoesNotMatch("<xmp:(Create|Modify|Metadata)Date>[^ <]", Text);
    }

    [Fact]
    public void It_is_tagged_names_its_language_and_embeds_every_font()
    {
        Assert.Contains("/StructTreeRoot", Text, StringComparison.Ordinal);
        Assert.Matches("/Marked true", Text);
        Assert.Matches(@"/Lang\(en", Text);
        int descriptors = Count("/Type/FontDescriptor"), embedded = Count("/FontFile2");
        Assert.True(descriptors > 0);
        Assert.Equal(descriptors, embedded);
    }

    [Fact]
    public void Another_reader_finds_its_pages_title_and_bookmarks()
    {
        using MemoryStream stream = new(File);
        using PdfDocument read = PdfReader.Open(stream, PdfDocumentOpenMode.Import);
        Assert.Equal(Sample.Title, read.Info.Title);
        Assert.True(read.PageCount is > 8 and < 60, $"{read.PageCount} pages");
        Assert.Equal(595.28, read.Pages[0].Width.Point, 0.01);
        int bookmarks = Sample.Blocks.OfType<PaperHeading>().Count(h => h.Level is 2 or 3);
        Assert.Equal(bookmarks, Count("/Dest[") - Count("/Subtype/Link"));
    }

    [Fact]
    public void Nothing_is_set_outside_the_area_of_the_page()
    {
        foreach (PaperTable table in Sample.Blocks.OfType<PaperTable>())
        {
            foreach (float size in new[] { 7f, 8f })
                Assert.True(TableWidths.Of(table, size, PdfFlow.Width).Sum() <= PdfFlow.Width + 0.1f, table.Caption);
        }
    }

    [Fact]
    public void A_word_longer_than_a_line_is_broken_and_nothing_is_lost()
    {
        string hash = new('f', 300);
        var lines = PdfWords.Break([new PaperRun("before "), new PaperRun(hash, Bold: true), new PaperRun(" after")], 9, 200);
        Assert.Equal($"before {hash} after", string.Concat(lines.SelectMany(l => l.Select(p => p.Text))));
        Assert.All(lines, l => Assert.All(l, p => Assert.True(p.X + RotationStudy.Report.Figures.Lettering.Width(p.Text.TrimEnd(), 9, p.Bold) <= 200.1f)));
    }

    [Fact]
    public void A_paragraph_a_list_and_a_row_longer_than_a_page_run_on()
    {
        string words = string.Concat(Enumerable.Repeat("word after word after word ", 600));
        ImmutableArray<PaperRun> runs = [new PaperRun(words)];
        Paper paper = new("Long", [
            new PaperParagraph(runs, PaperTone.Plain), new PaperParagraph(runs, PaperTone.Care), new PaperList([runs], false, PaperTone.Plain),
            new PaperTable("Long", [new PaperColumn("a", false), new PaperColumn("b", true)], [new PaperRow([words, "1"], false)], false)]);
        using MemoryStream stream = new(PdfReport.Write(paper));
        using PdfDocument read = PdfReader.Open(stream, PdfDocumentOpenMode.Import);
        Assert.True(read.PageCount >= 8, $"{read.PageCount} pages");
    }

    [Theory]
    [InlineData("hostile text")]
    [InlineData("long labels everywhere")]
    [InlineData("nothing answered")]
    public void Hard_cases_become_whole_files(string name)
        => Assert.EndsWith("%%EOF\n", Encoding.Latin1.GetString(PdfReport.Write(PaperReaderTests.ReadCase(name))).ReplaceLineEndings("\n").TrimEnd() + "\n", StringComparison.Ordinal);

    private static int Count(string what)
    {
        int count = 0;
        for (int at = Text.IndexOf(what, StringComparison.Ordinal); at >= 0; at = Text.IndexOf(what, at + 1, StringComparison.Ordinal))
            count++;
        return count;
    }
}
