using System.Collections.Immutable;
using System.Text;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Html;

namespace RotationStudy.Report.Documents;

/// <summary>Turns the page of a report into a paper, so that HTML, PDF and DOCX are written by the same sections and cannot differ.</summary>
/// <remarks>
/// What folds open in the page (data of figures, lists of checks) is left out and named, as in a print of the page. An element that
/// is not known is read as its content, so a new section needs nothing here.
/// </remarks>
internal sealed class PaperReader
{
    private static readonly HashSet<string> Skipped = ["head", "script", "style"];
    private static readonly HashSet<string> Blocks =
        ["p", "div", "section", "ul", "ol", "dl", "table", "figure", "details", "h1", "h2", "h3", "h4", "h5", "h6", "nav", "header", "main"];

    private readonly Dictionary<string, Figure> _figures;
    private readonly ImmutableArray<PaperBlock>.Builder _blocks = ImmutableArray.CreateBuilder<PaperBlock>();
    private string? _anchor;

    private PaperReader(ImmutableArray<Figure> figures) => _figures = figures.ToDictionary(f => HtmlWriter.Id("figure-", f.Id));

    internal static Paper Read(PageElement page, string title, ImmutableArray<Figure> figures)
    {
        PaperReader reader = new(figures);
        reader.ReadContent(page, PaperTone.Plain);
        return new Paper(title, reader._blocks.ToImmutable());
    }

    private void ReadContent(PageElement parent, PaperTone tone)
    {
        List<PageContent> loose = [];
        foreach (PageContent content in parent.Content)
        {
            if (content.Element is { } element && Blocks.Contains(element.Tag) || content.Element is { Content.Count: > 0 } other && HasBlocks(other))
            {
                AddParagraph(loose, tone);
                loose.Clear();
                ReadBlock(content.Element!, tone);
            }
            else if (content.Element is not { } inline || !IsHidden(inline))
            {
                loose.Add(content);
            }
        }
        AddParagraph(loose, tone);
    }

    private void ReadBlock(PageElement element, PaperTone tone)
    {
        if (IsHidden(element))
            return;
        switch (element.Tag)
        {
            case "h1" or "h2" or "h3" or "h4" or "h5" or "h6":
                string? own = element.Attribute("id");
                _blocks.Add(new PaperHeading(element.Tag[1] - '0', Plain(element.AllText), _anchor ?? own));
                _anchor = null;
                break;
            case "p":
                AddParagraph(element.Content, ToneOf(element, tone));
                break;
            case "ul" or "ol":
                ReadList(element, ToneOf(element, tone));
                break;
            case "dl":
                foreach (PageElement item in element.Children)
                    AddParagraph(item.Content, item.Tag == "dt" ? PaperTone.Term : PaperTone.Explanation);
                break;
            case "table":
                _blocks.Add(PaperTableReader.Read(element));
                break;
            case "figure" when element.Attribute("id") is { } id && _figures.TryGetValue(id, out Figure? figure):
                _blocks.Add(new PaperPicture(figure));
                break;
            case "nav":
                ReadContents(element);
                break;
            case "details":
                string? summary = element.Children.FirstOrDefault(c => c.Tag == "summary")?.AllText;
                AddParagraph([new PageContent($"In report.html: {summary}.", null)], PaperTone.Quiet);
                break;
            default:
                if (element.Tag == "section")
                    _anchor = element.Attribute("id");
                ReadContent(element, ToneOf(element, tone));
                break;
        }
    }

    private void ReadList(PageElement list, PaperTone tone)
    {
        if (list.Children.Any(HasBlocks))
        {
            foreach (PageElement item in list.Children)
                ReadContent(item, tone);
            return;
        }
        ImmutableArray<ImmutableArray<PaperRun>> items = [.. list.Children.Select(i => Runs(i.Content)).Where(r => !r.IsEmpty)];
        if (!items.IsEmpty)
            _blocks.Add(new PaperList(items, list.Tag == "ol", tone));
    }

    private void ReadContents(PageElement nav)
    {
        ImmutableArray<(string, string)> entries =
        [
            .. Descendants(nav).Where(e => e.Tag == "a" && e.Attribute("href")?.StartsWith('#') == true)
                .Select(a => (a.Attribute("href")![1..], Plain(a.AllText))),
        ];
        if (!entries.IsEmpty)
            _blocks.Add(new PaperContents(entries));
    }

    private void AddParagraph(IReadOnlyList<PageContent> content, PaperTone tone)
    {
        ImmutableArray<PaperRun> runs = Runs(content);
        if (!runs.IsEmpty)
            _blocks.Add(new PaperParagraph(runs, tone));
    }

    private static ImmutableArray<PaperRun> Runs(IReadOnlyList<PageContent> content)
    {
        List<PaperRun> runs = [];
        Collect(content, bold: false, anchor: null, runs);
        if (runs.Count == 0)
            return [];
        runs[0] = runs[0] with { Text = runs[0].Text.TrimStart(' ') };
        runs[^1] = runs[^1] with { Text = runs[^1].Text.TrimEnd(' ') };
        return [.. runs.Where(r => r.Text.Length > 0)];
    }

    private static void Collect(IReadOnlyList<PageContent> content, bool bold, string? anchor, List<PaperRun> runs)
    {
        foreach (PageContent piece in content)
        {
            if (piece.Element is { } element)
            {
                string? to = element.Tag == "a" && element.Attribute("href") is ['#', .. var name] ? name : anchor;
                if (!IsHidden(element))
                    Collect(element.Content, bold || element.Tag is "strong" or "b", to, runs);
            }
            else if (Spaced(piece.Text) is { Length: > 0 } text)
            {
                runs.Add(new PaperRun(text, bold, anchor));
            }
        }
    }

    private static PaperTone ToneOf(PageElement element, PaperTone around)
    {
        if (element.HasClass("stop"))
            return PaperTone.Stop;
        if (element.HasClass("care"))
            return PaperTone.Care;
        if (element.HasClass("box"))
            return PaperTone.Box;
        if (around is PaperTone.Stop or PaperTone.Care or PaperTone.Box)
            return around;
        return element.HasClass("lead") ? PaperTone.Lead
            : element.HasClass("answer") ? PaperTone.Answer
            : element.HasClass("facts") || element.HasClass("note") || element.HasClass("asks") ? PaperTone.Quiet
            : around;
    }

    private static bool IsHidden(PageElement element)
        => Skipped.Contains(element.Tag) || element.HasClass("skip") || element.HasClass("unseen");

    private static bool HasBlocks(PageElement element) => Descendants(element).Any(e => Blocks.Contains(e.Tag));

    private static IEnumerable<PageElement> Descendants(PageElement element)
        => element.Children.SelectMany(c => Descendants(c).Prepend(c));

    /// <summary>Words without blanks at the ends.</summary>
    internal static string Plain(string text) => Spaced(text).Trim(' ');

    /// <summary>Every run of blanks and line ends is one blank; blanks that do not break are kept.</summary>
    private static string Spaced(string text)
    {
        StringBuilder spaced = new(text.Length);
        foreach (char c in text)
        {
            bool blank = c is ' ' or '\n' or '\r' or '\t';
            if (!blank)
                spaced.Append(c);
            else if (spaced.Length == 0 || spaced[^1] != ' ')
                spaced.Append(' ');
        }
        return spaced.ToString();
    }
}
