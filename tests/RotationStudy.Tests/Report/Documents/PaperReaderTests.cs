using System.Collections.Concurrent;
using System.Collections.Immutable;
using RotationStudy.Report.Documents;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Report.Documents;

public class PaperReaderTests
{
    private static readonly ConcurrentDictionary<string, Lazy<Paper>> Cases = new(StringComparer.Ordinal);

    [Fact]
    public void Every_word_of_the_page_is_in_the_paper_but_what_folds_open()
    {
        StudyResults results = SampleResults.Study();
        ImmutableArray<Figure> figures = FigureCatalog.DrawAll(results);
        HtmlWriter page = ReportPage.Compose(results, figures);
        page.Finish();
        string paper = string.Join('\n', PaperReader.Read(page.Tree, results.Study.Title, figures).Blocks.SelectMany(WordsOf));
        string[] leaves = [.. Leaves(page.Tree).Select(e => PaperReader.Plain(e.AllText)).Where(t => t.Length > 0)];

        Assert.True(leaves.Length > 250);
        Assert.All(leaves, text => Assert.Contains(text, paper, StringComparison.Ordinal));
    }

    [Fact]
    public void Headings_keep_their_level_and_carry_the_anchor_of_their_section()
    {
        Paper paper = ReadSample();
        PaperHeading flow = paper.Blocks.OfType<PaperHeading>().Single(h => h.Text == "Who took part" && h.Level == 2);
        Assert.Equal("flow", flow.Anchor);
        PaperContents contents = Assert.Single(paper.Blocks.OfType<PaperContents>());
        string[] anchors = [.. paper.Blocks.OfType<PaperHeading>().Select(h => h.Anchor!)];
        Assert.All(contents.Entries, e => Assert.Contains(e.Anchor, anchors));
    }

    [Fact]
    public void Every_figure_stands_once_and_every_table_has_a_cell_for_each_column()
    {
        Paper paper = ReadSample();
        Assert.Equal(["dislocation-free", "flow", "forest", "laxity-scatter"], paper.Blocks.OfType<PaperPicture>().Select(p => p.Figure.Id).Order());
        Assert.All(paper.Blocks.OfType<PaperTable>(), t => Assert.All(t.Rows, r => Assert.Equal(t.Columns.Length, r.Cells.Length)));
        Assert.Contains(paper.Blocks.OfType<PaperTable>(), t => t.HasTotals && t.Rows[^1].Cells[0] == "All tables");
    }

    [Fact]
    public void Text_that_could_deceive_is_shown_as_its_code()
    {
        Paper paper = ReadCase("hostile text");
        Assert.DoesNotContain(paper.Blocks.SelectMany(WordsOf), w => w.Contains('\u202E', StringComparison.Ordinal));
        Assert.Contains(paper.Blocks.SelectMany(WordsOf), w => w.Contains("[U+202E]gnp.exe", StringComparison.Ordinal));
    }

    [Fact]
    public void An_element_that_is_not_known_is_read_as_its_content()
    {
        PageElement page = new("page", []), article = new("article", []), words = new("p", []), strong = new("strong", []);
        page.Add(article);
        article.Add(words);
        words.Add("  one\n");
        words.Add(strong);
        strong.Add("two");
        words.Add(" three ");
        PaperParagraph read = Assert.IsType<PaperParagraph>(Assert.Single(PaperReader.Read(page, "", []).Blocks));
        Assert.Equal("one |*two|  three", string.Join("| ", read.Runs.Select(r => (r.Bold ? "*" : "") + r.Text)).Replace("| *", "|*", StringComparison.Ordinal));
    }

    internal static Paper ReadSample() => ReadCase("the sample");

    /// <summary>A hard case as a paper; its figures are drawn once for all tests.</summary>
    internal static Paper ReadCase(string name) => Cases.GetOrAdd(name, n => new Lazy<Paper>(() =>
    {
        StudyResults results = HardCases.All[n];
        ImmutableArray<Figure> figures = FigureCatalog.DrawAll(results);
        return PaperReader.Read(ReportPage.Compose(results, figures).Tree, results.Study.Title, figures);
    })).Value;

    internal static IEnumerable<string> WordsOf(PaperBlock block) => block switch
    {
        PaperHeading heading => [heading.Text],
        PaperParagraph paragraph => [string.Concat(paragraph.Runs.Select(r => r.Text))],
        PaperList list => list.Items.Select(i => string.Concat(i.Select(r => r.Text))),
        PaperTable table => [table.Caption, .. table.Columns.Select(c => c.Title), .. table.Rows.SelectMany(r => r.Cells)],
        PaperContents contents => contents.Entries.Select(e => e.Title),
        _ => [],
    };

    private static IEnumerable<PageElement> Leaves(PageElement element)
    {
        if (element.Tag is "details" or "figure" or "head" || element.HasClass("skip") || element.HasClass("unseen"))
            return [];
        return element.Tag is "p" or "td" or "th" or "caption" or "dt" or "dd" or "h1" or "h2" or "h3" or "h4" || (element.Tag == "li" && !element.Children.Any(c => c.Tag == "p"))
            ? [element]
            : element.Children.SelectMany(Leaves);
    }
}
