using System.Buffers.Binary;
using System.Text;
using RotationStudy.Report.Figures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Tests.Report.Figures;

public class FigureFilesTests
{
    private static readonly StudyResults Results = SampleResults.Study();

    [Fact]
    public void Two_runs_give_the_same_bytes_in_every_form_and_use()
    {
        foreach (string use in new[] { "journal_single", "slide_dark" })
        {
            var first = FigureFiles.Draw(Results, Results.Figures[1], use, "x");
            var second = FigureFiles.Draw(Results, Results.Figures[1], use, "x");
            Assert.Equal(first.Select(f => f.Name), second.Select(f => f.Name));
            for (int i = 0; i < first.Length; i++)
                Assert.True(first[i].Content.AsSpan().SequenceEqual(second[i].Content), $"{use} {first[i].Name}");
        }
    }

    [Theory]
    [InlineData("journal_single", 85, 0.1)]
    [InlineData("journal_double", 170, 0.1)]
    [InlineData("slide_dark", 13.333 * 25.4, 0.1)]
    [InlineData("poster", 600, 0.2)]
    public void A_use_has_its_width(string use, double millimetres, double within)
    {
        FigurePage page = FigureCatalog.Lay(Results, Results.Figures[3], FigureStyle.Of(use)).Page;
        Assert.Equal(millimetres, page.Width * page.Style.Scale * FigureTheme.MillimetresPerPoint, within);
    }

    [Fact]
    public void A_slide_is_sixteen_to_nine()
    {
        byte[] png = FigureFiles.Draw(Results, Results.Figures[1], "slide_light", "x")[0].Content;
        Assert.Equal(1920u, BinaryPrimitives.ReadUInt32BigEndian(png.AsSpan(16)));
        Assert.Equal(1080u, BinaryPrimitives.ReadUInt32BigEndian(png.AsSpan(20)));
    }

    [Fact]
    public void The_tiff_holds_as_many_dots_as_it_says_at_six_hundred_to_the_inch()
    {
        byte[] tiff = FigureFiles.Draw(Results, Results.Figures[1], "journal_single", "x").Single(f => f.Name == "x.tif").Content;
        Assert.Equal("II*\0"u8.ToArray(), tiff[..4]);
        uint Entry(int index) => BinaryPrimitives.ReadUInt32LittleEndian(tiff.AsSpan(10 + 12 * index + 8));
        Assert.Equal(2008u, Entry(0));
        Assert.Equal(600u, BinaryPrimitives.ReadUInt32LittleEndian(tiff.AsSpan((int)Entry(9))));
        Assert.Equal(5u, Entry(3));
        byte[] dots = Unpack(tiff.AsSpan((int)Entry(5), (int)Entry(8)));
        Assert.Equal(Entry(0) * Entry(1) * 3, (uint)dots.Length);
        using SKBitmap png = SKBitmap.Decode(FigureFiles.Draw(Results, Results.Figures[1], "journal_single", "x").Single(f => f.Name == "x-600.png").Content);
        Assert.Equal((int)Entry(0), png.Width);
        for (int y = 0; y < png.Height; y += 37)
        {
            for (int x = 0; x < png.Width; x += 11)
            {
                SKColor dot = png.GetPixel(x, y);
                Assert.Equal([dot.Red, dot.Green, dot.Blue], dots[(3 * (y * png.Width + x))..][..3]);
            }
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(300)]
    [InlineData(200_000)]
    public void Packed_bytes_unpack_to_themselves(int length)
    {
        byte[] bytes = [.. Enumerable.Range(0, length).Select(i => (byte)(i * i / 7 % 251))];
        TiffLzw packed = new();
        packed.Write(bytes.AsSpan(0, length / 3));
        packed.Write(bytes.AsSpan(length / 3));
        Assert.Equal(bytes, Unpack(packed.Finish()));
    }

    /// <summary>Reads LZW as TIFF 6.0, section 13, describes it.</summary>
    private static byte[] Unpack(ReadOnlySpan<byte> packed)
    {
        List<byte> bytes = [];
        List<byte[]> table = [];
        byte[]? before = null;
        int at = 0, width = 9;
        while (at + width <= 8 * packed.Length)
        {
            int code = 0;
            for (int bit = 0; bit < width; bit++, at++)
                code = (code << 1) | ((packed[at / 8] >> (7 - at % 8)) & 1);
            if (code == 257)
                return [.. bytes];
            if (code == 256)
            {
                table = [.. Enumerable.Range(0, 256).Select(b => new[] { (byte)b }), [], []];
                (width, before) = (9, null);
                continue;
            }
            byte[] entry = code < table.Count ? table[code] : [.. before!, before![0]];
            if (before is not null)
                table.Add([.. before, entry[0]]);
            bytes.AddRange(entry);
            before = entry;
            width = table.Count >= 2047 ? 12 : table.Count >= 1023 ? 11 : table.Count >= 511 ? 10 : 9;
        }
        throw new InvalidDataException("The packed bytes have no end.");
    }

    [Fact]
    public void The_pdf_embeds_its_font_and_has_no_date()
    {
        string pdf = Encoding.Latin1.GetString(FigureFiles.Draw(Results, Results.Figures[1], "journal_double", "x").Single(f => f.Name == "x.pdf").Content);
        Assert.StartsWith("%PDF-", pdf, StringComparison.Ordinal);
        Assert.Contains("/FontFile2", pdf, StringComparison.Ordinal);
        Assert.DoesNotContain("/CreationDate", pdf, StringComparison.Ordinal);
    }

    [Fact]
    public void Fewer_questions_in_another_order_and_another_axis_are_drawn_as_asked()
    {
        FigureRequest forest = Results.Figures[3];
        FigureRequest asked = forest with { Title = "Anew", Questions = [.. forest.Questions.Reverse().Take(2)], Across = [0.25, 8] };
        FigurePage page = FigureCatalog.Lay(Results, asked).Page;
        string[] headings = [.. page.Texts.Where(t => t.Bold && t.Text.StartsWith('Q') && char.IsDigit(t.Text[1])).Select(t => t.Text[..2])];
        Assert.Equal(asked.Questions, headings);
        Assert.Contains(page.Texts, t => t.Text == "Anew");
        Assert.DoesNotContain(page.Texts, t => t.Text == "20");
    }

    [Fact]
    public void Points_outside_the_axis_are_counted_in_the_caption()
    {
        FitScatter scatter = Results.Questions.Single(q => q.Id == "Q2").Scatters[0];
        int outside = scatter.X.Count(x => x is < 0 or > 10);
        FigureDrawing drawing = FigureCatalog.Lay(Results, Results.Figures[1] with { Across = [0, 10] });
        Assert.Contains($"{outside} points lie outside the axis.", drawing.Caption, StringComparison.Ordinal);
    }

    [Fact]
    public void A_use_that_does_not_exist_is_named()
    {
        ArgumentException error = Assert.Throws<ArgumentException>(() => FigureFiles.Draw(Results, Results.Figures[0], "napkin", "x"));
        Assert.Contains("'napkin'", error.Message, StringComparison.Ordinal);
        Assert.Contains("journal_single", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_protocol_knows_the_same_uses()
        => Assert.Equal(FigureFiles.Uses.Select(u => u.Replace("_", "", StringComparison.Ordinal)), Enum.GetNames<FigureUse>().Select(n => n.ToLowerInvariant()));
}
