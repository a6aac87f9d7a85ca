using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using RotationStudy.Report.Figures;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Report.Figures;

public class FigureBytesTests
{
    private static readonly StudyResults Results = SampleResults.Study();

    [Fact]
    public void Order_and_company_change_no_byte()
    {
        ImmutableArray<Figure> together = FigureCatalog.DrawAll(Results);
        for (int i = Results.Figures.Length - 1; i >= 0; i--)
        {
            Figure alone = FigureCatalog.Draw(Results, Results.Figures[i]);
            Assert.Equal(together[i].Png.ToArray(), alone.Png.ToArray());
            Assert.Equal(together[i].Svg, alone.Svg);
            Assert.Equal(together[i].InlineSvg, alone.InlineSvg);
            Assert.Equal(together[i].Data.ToCsv(), alone.Data.ToCsv());
        }
    }

    [Fact]
    public void The_picture_states_its_resolution_and_is_as_wide_as_a_double_column()
    {
        byte[] png = FigureCatalog.Draw(Results, Results.Figures[0]).Png.ToArray();
        Assert.Equal(2008u, BinaryPrimitives.ReadUInt32BigEndian(png.AsSpan(16)));
        Assert.Equal("pHYs"u8.ToArray(), png[37..41]);
        Assert.Equal(11811u, BinaryPrimitives.ReadUInt32BigEndian(png.AsSpan(41)));
        Assert.Equal(1, png[49]);
        // CRC-32 of the chunk, as zlib 1.2.13 computes it.
        Assert.Equal(0x78a53f76u, BinaryPrimitives.ReadUInt32BigEndian(png.AsSpan(50)));
    }

    [Fact]
    public void The_svg_is_well_formed_scalable_and_holds_whole_lines_of_text()
    {
        foreach (Figure figure in FigureCatalog.DrawAll(Results))
        {
            XElement svg = XDocument.Parse(figure.Svg).Root!;
            Assert.NotNull(svg.Attribute("viewBox"));
            Assert.Equal("170.01mm", svg.Attribute("width")!.Value);
            Assert.Contains(svg.Descendants().Where(e => e.Name.LocalName == "text"), t => t.Value == figure.Title);
        }
    }

    [Fact]
    public void Ids_do_not_clash_when_figures_share_a_page()
    {
        string all = string.Concat(FigureCatalog.DrawAll(Results).Select(f => f.InlineSvg));
        string[] ids = [.. Regex.Matches(all, "\\bid=\"([^\"]+)\"").Select(m => m.Groups[1].Value)];
        Assert.Equal(ids.Length, ids.Distinct().Count());
        Assert.All(Regex.Matches(all, "url\\(#([^)]+)\\)"), m => Assert.Contains(m.Groups[1].Value, ids));
    }

    [Theory]
    [InlineData(0, "304 participants, 608 knees", "no baseline visit, 7 participants (14 knees)", "fewer than 5 participants")]
    [InlineData(1, "500 points", "0.31 points (95% interval 0.08 to 0.54)", "from 2.256 at −6")]
    [InlineData(2, "over 25°: 65%", "201 at risk at the start", "498 knees of 251 participants, 87 events")]
    [InlineData(3, "odds ratio 14.2, 95% interval 3.90 to ∞", "Q7 Derotation operations: no estimate", "difference −2.4 points")]
    public void The_alternative_text_holds_the_numbers(int figure, params string[] phrases)
    {
        Figure drawn = FigureCatalog.Draw(Results, Results.Figures[figure]);
        Assert.All(phrases, p => Assert.Contains(p, drawn.AlternativeText, StringComparison.Ordinal));
        Assert.NotEmpty(drawn.Data.Rows);
        Assert.All(drawn.Data.Rows, r => Assert.Equal(drawn.Data.Columns.Length, r.Length));
    }

    [Fact]
    public void Small_counts_of_people_are_in_no_form_of_the_flow()
    {
        Figure flow = FigureCatalog.Draw(Results, Results.Figures[0]);
        Assert.Contains("left out before: enrolled,identifier given twice,<5,", flow.Data.ToCsv(), StringComparison.Ordinal);
        Assert.DoesNotContain("3 participants", flow.AlternativeText.Replace("293 participants", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.DoesNotContain("identifier given twice: 3", flow.Svg, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Hard_cases_are_drawn_in_every_form(string name)
    {
        foreach (Figure figure in FigureCatalog.DrawAll(HardCases.All[name]))
        {
            Assert.True(figure.Png.Length > 1000);
            Assert.NotNull(XDocument.Parse(figure.Svg).Root);
            Assert.NotEmpty(figure.AlternativeText);
        }
    }

    public static TheoryData<string> Names() => [.. HardCases.All.Keys];
}
