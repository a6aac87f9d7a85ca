using System.Collections.Immutable;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Wordprocessing;

namespace RotationStudy.Report.Documents.Word;

/// <summary>The report as DOCX: styles with names, tables that can be edited, numbered captions, headings that Word's navigation knows.</summary>
/// <remarks>Looks stand in the styles, not in the paragraphs: a journal's template replaces them at once. No date, no author: the same paper gives the same bytes.</remarks>
internal static class WordReport
{
    private const uint PageWidth = 11906, PageHeight = 16838, Margin = 1134;

    /// <summary>The file.</summary>
    internal static byte[] Write(Paper paper)
    {
        using MemoryStream stream = new();
        using (WordprocessingDocument document = WordprocessingDocument.Create(stream, WordprocessingDocumentType.Document))
        {
            OfficeFile.Name(document.AddNewPart<CoreFilePropertiesPart>("core"), paper.Title);
            MainDocumentPart main = document.AddMainDocumentPart();
            document.ChangeIdOfPart(main, "document");
            OfficeFile.Fill(main.AddNewPart<StyleDefinitionsPart>("styles"), "Word/styles.xml");
            OfficeFile.Fill(main.AddNewPart<FontTablePart>("fonts"), "Word/fontTable.xml");
            OfficeFile.Fill(main.AddNewPart<DocumentSettingsPart>("settings"), "Word/settings.xml");
            WordLists lists = new();
            Body body = new();
            WordBlocks blocks = new(main, lists, BookmarksOf(paper));
            foreach (PaperBlock block in paper.Blocks)
                body.Append(blocks.Of(block));
            body.Append(Section(WriteFooter(main, paper.Title)));
            main.Document = new Document(body);
            main.AddNewPart<NumberingDefinitionsPart>("lists").Numbering = lists.Definitions();
        }
        return OfficeFile.Settle(stream);
    }

    /// <summary>Word wants short names of letters and digits, so anchors are numbered.</summary>
    private static ImmutableDictionary<string, string> BookmarksOf(Paper paper)
        => paper.Blocks.OfType<PaperHeading>().Where(h => h.Anchor is not null).Select(h => h.Anchor!).Distinct(StringComparer.Ordinal)
            .Select((anchor, i) => KeyValuePair.Create(anchor, FormattableString.Invariant($"place{i + 1}"))).ToImmutableDictionary(StringComparer.Ordinal);

    private static string WriteFooter(MainDocumentPart main, string title)
    {
        FooterPart footer = main.AddNewPart<FooterPart>("footer");
        Paragraph line = new(new ParagraphProperties(new ParagraphStyleId { Val = "Footer" }));
        line.Append(WordRuns.Plain(title), new Run(new TabChar()));
        line.Append(WordRuns.Field("PAGE", "1"));
        line.Append(WordRuns.Plain(" of "));
        line.Append(WordRuns.Field("NUMPAGES", "1"));
        footer.Footer = new Footer(line);
        return main.GetIdOfPart(footer);
    }

    private static SectionProperties Section(string footer) => new(
        new FooterReference { Type = HeaderFooterValues.Default, Id = footer },
        new PageSize { Width = PageWidth, Height = PageHeight },
        new PageMargin { Top = (int)Margin, Bottom = (int)Margin, Left = Margin, Right = Margin, Header = 567U, Footer = 567U, Gutter = 0U });
}
