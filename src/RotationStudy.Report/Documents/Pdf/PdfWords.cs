using System.Collections.Immutable;
using RotationStudy.Report.Figures;

namespace RotationStudy.Report.Documents.Pdf;

/// <summary>A piece of a line with one look.</summary>
/// <param name="X">Points from the start of the line.</param>
/// <param name="Text">Words.</param>
/// <param name="Bold">Whether bold.</param>
/// <param name="Anchor">Where it leads; null for nowhere.</param>
internal readonly record struct PdfPiece(float X, string Text, bool Bold, string? Anchor);

/// <summary>Breaks runs of a paragraph into lines.</summary>
internal static class PdfWords
{
    /// <summary>Lines no longer than the width. A word longer than a line is broken.</summary>
    internal static ImmutableArray<ImmutableArray<PdfPiece>> Break(ImmutableArray<PaperRun> runs, float size, float width, bool allBold = false)
    {
        List<ImmutableArray<PdfPiece>> lines = [];
        List<PdfPiece> line = [];
        float x = 0;
        foreach ((string word, PaperRun run) in runs.SelectMany(r => Words(r.Text).Select(w => (w, r))))
        {
            bool bold = run.Bold || allBold;
            string left = word;
            while (left.Length > 0)
            {
                if (x + Lettering.Width(left.TrimEnd(' '), size, bold) <= width + 0.01f)
                {
                    Append(line, x, left, bold, run.Anchor);
                    x += Lettering.Width(left, size, bold);
                    break;
                }
                if (line.Count > 0)
                {
                    lines.Add([.. line]);
                    (line, x) = ([], 0);
                    left = left.TrimStart(' ');
                    continue;
                }
                int fit = left.Length - 1;
                while (fit > 1 && Lettering.Width(left[..fit], size, bold) > width)
                    fit--;
                lines.Add([new PdfPiece(0, left[..fit], bold, run.Anchor)]);
                left = left[fit..];
            }
        }
        if (line.Count > 0)
            lines.Add([.. line]);
        return [.. lines];
    }

    /// <summary>Words, each with the blank that follows it.</summary>
    private static IEnumerable<string> Words(string text)
    {
        int start = 0;
        for (int blank = text.IndexOf(' ', StringComparison.Ordinal); blank >= 0; blank = text.IndexOf(' ', start))
        {
            yield return text[start..(blank + 1)];
            start = blank + 1;
        }
        if (start < text.Length)
            yield return text[start..];
    }

    private static void Append(List<PdfPiece> line, float x, string text, bool bold, string? anchor)
    {
        if (line.Count > 0 && line[^1] is var last && last.Bold == bold && last.Anchor == anchor)
            line[^1] = last with { Text = last.Text + text };
        else
            line.Add(new PdfPiece(x, text, bold, anchor));
    }
}
