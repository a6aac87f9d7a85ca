using System.Collections.Immutable;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Wordprocessing;

namespace RotationStudy.Report.Documents.Word;

/// <summary>Turns each block of a paper into paragraphs and tables of Word.</summary>
internal sealed class WordBlocks(MainDocumentPart main, WordLists lists, ImmutableDictionary<string, string> bookmarks)
{
    private int _tables, _figures, _bookmark;

    internal IEnumerable<OpenXmlElement> Of(PaperBlock block) => block switch
    {
        PaperHeading heading => [Heading(heading)],
        PaperParagraph paragraph => [Styled(StyleOf(paragraph.Tone), WordRuns.Of(paragraph.Runs, bookmarks))],
        PaperList list => List(list),
        PaperContents contents => Contents(contents),
        PaperTable table when !table.Columns.IsEmpty => Table(table),
        PaperPicture picture => Picture(picture),
        _ => [],
    };

    private Paragraph Heading(PaperHeading heading)
    {
        string style = heading.Level switch { 1 => "Title", 2 => "Heading1", 3 => "Heading2", _ => "Heading3" };
        if (heading.Anchor is null || !bookmarks.TryGetValue(heading.Anchor, out string? name))
            return Styled(style, [WordRuns.Plain(heading.Text)]);
        string id = FormattableString.Invariant($"{++_bookmark}");
        return Styled(style, [new BookmarkStart { Id = id, Name = name }, WordRuns.Plain(heading.Text), new BookmarkEnd { Id = id }]);
    }

    private IEnumerable<Paragraph> List(PaperList list)
    {
        int numbering = lists.Next(list.Ordered);
        foreach (ImmutableArray<PaperRun> item in list.Items)
        {
            Paragraph paragraph = new(new ParagraphProperties(
                new ParagraphStyleId { Val = StyleOf(list.Tone) },
                new NumberingProperties(new NumberingLevelReference { Val = 0 }, new NumberingId { Val = numbering }),
                new Indentation { Left = "480", Hanging = "280" }));
            paragraph.Append(WordRuns.Of(item, bookmarks));
            yield return paragraph;
        }
    }

    /// <summary>A table of contents that Word can update; until then it lists the sections, each a link.</summary>
    private IEnumerable<Paragraph> Contents(PaperContents contents)
    {
        (string Anchor, string Title)[] entries = [.. contents.Entries.Where(e => bookmarks.ContainsKey(e.Anchor))];
        for (int i = 0; i < entries.Length; i++)
        {
            Paragraph line = Styled("TOC1", []);
            if (i == 0)
            {
                line.Append(
                    new Run(new FieldChar { FieldCharType = FieldCharValues.Begin }),
                    new Run(new FieldCode(" TOC \\o \"1-1\" \\n \\h ") { Space = SpaceProcessingModeValues.Preserve }),
                    new Run(new FieldChar { FieldCharType = FieldCharValues.Separate }));
            }
            line.Append(WordRuns.Link(entries[i].Title, bookmarks[entries[i].Anchor]));
            if (i == entries.Length - 1)
                line.Append(new Run(new FieldChar { FieldCharType = FieldCharValues.End }));
            yield return line;
        }
    }

    private IEnumerable<OpenXmlElement> Table(PaperTable table)
    {
        yield return Styled("TableCaption", Caption("Table", ++_tables, table.Caption, ""));
        yield return WordTable.Of(table);
        yield return Styled("TableEnd", []);
    }

    private IEnumerable<OpenXmlElement> Picture(PaperPicture picture)
    {
        int number = ++_figures;
        yield return Styled("Picture", [WordPicture.Of(main, picture.Figure, number)]);
        yield return Styled("Caption", Caption("Figure", number, picture.Figure.Title, picture.Figure.Caption));
    }

    private static IEnumerable<OpenXmlElement> Caption(string kind, int number, string title, string words)
    {
        yield return WordRuns.Plain(kind + " ", bold: true);
        foreach (Run run in WordRuns.Field($"SEQ {kind} \\* ARABIC", NumberFormat.Count(number)))
        {
            run.PrependChild(new RunProperties(new Bold()));
            yield return run;
        }
        yield return WordRuns.Plain($". {title}.", bold: true);
        if (words.Length > 0)
            yield return WordRuns.Plain(" " + words);
    }

    private static Paragraph Styled(string style, IEnumerable<OpenXmlElement> content)
    {
        Paragraph paragraph = new(new ParagraphProperties(new ParagraphStyleId { Val = style }));
        paragraph.Append(content);
        return paragraph;
    }

    private static string StyleOf(PaperTone tone) => tone switch
    {
        PaperTone.Plain => "Normal",
        PaperTone.Lead => "Lead",
        PaperTone.Quiet => "Quiet",
        PaperTone.Answer => "Answer",
        PaperTone.Term => "Term",
        PaperTone.Explanation => "Explanation",
        PaperTone.Box => "Box",
        PaperTone.Care => "Care",
        _ => "Stop",
    };
}
