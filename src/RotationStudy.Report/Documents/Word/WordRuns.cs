using System.Collections.Immutable;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Wordprocessing;

namespace RotationStudy.Report.Documents.Word;

/// <summary>Runs of text, links within the document, and fields.</summary>
internal static class WordRuns
{
    internal static Run Plain(string text, bool bold = false)
    {
        Run run = new();
        if (bold)
            run.Append(new RunProperties(new Bold()));
        run.Append(new Text(OfficeFile.Text(text)) { Space = SpaceProcessingModeValues.Preserve });
        return run;
    }

    internal static IEnumerable<OpenXmlElement> Of(ImmutableArray<PaperRun> runs, ImmutableDictionary<string, string> bookmarks)
        => runs.Select(r => r.Anchor is { } anchor && bookmarks.TryGetValue(anchor, out string? bookmark) ? Link(r.Text, bookmark) : (OpenXmlElement)Plain(r.Text, r.Bold));

    internal static Hyperlink Link(string text, string bookmark)
    {
        Run run = new(new RunProperties(new RunStyle { Val = "Hyperlink" }));
        run.Append(new Text(OfficeFile.Text(text)) { Space = SpaceProcessingModeValues.Preserve });
        return new Hyperlink(run) { Anchor = bookmark, History = true };
    }

    /// <summary>A field with the value it shows until Word updates it.</summary>
    internal static IEnumerable<Run> Field(string code, string shown) =>
    [
        new Run(new FieldChar { FieldCharType = FieldCharValues.Begin }),
        new Run(new FieldCode($" {code} ") { Space = SpaceProcessingModeValues.Preserve }),
        new Run(new FieldChar { FieldCharType = FieldCharValues.Separate }),
        Plain(shown),
        new Run(new FieldChar { FieldCharType = FieldCharValues.End }),
    ];
}
