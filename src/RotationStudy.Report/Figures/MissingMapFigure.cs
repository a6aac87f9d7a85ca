using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Share of missing values, a row per measure and a column per site; the number stands in each cell, so shade is not needed to read it.</summary>
/// <remarks>Sites that do not fit beside each other follow in a further block below.</remarks>
internal static class MissingMapFigure
{
    private const float CellHeight = 13, Gap = 1, BlockGap = 10, LabelShare = 0.36f, HeadStep = FigureTheme.SmallSize * 1.25f;
    private const int Strongest = 95;

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        MissingFacts missing = results.Missing;
        if (missing.Map.IsEmpty)
            return FigureDrawing.Without(request, style, "The plan needs no measure.");
        float width = style.Width - 2 * FigureTheme.Margin, labels = LabelShare * width;
        float cellLeast = Lettering.Width("100%", FigureTheme.TextSize) + 6;
        int fit = Math.Max(1, (int)((width - labels) / cellLeast));
        ImmutableArray<string> columns = ["all", .. missing.Groups];
        int[][] blocks = [.. Enumerable.Range(0, columns.Length).Chunk(fit)];
        ImmutableArray<ImmutableArray<string>> rows = [.. missing.Map.Select(m => Lettering.Wrap($"{m.Label} ({NumberFormat.Count(m.Rows)})", FigureTheme.SmallSize, labels - 6, 2))];
        float top = FigureTitle.Height(request.Title, width) + 2;
        float cell = (width - labels) / Math.Min(fit, columns.Length);
        float[] heads = [.. blocks.Select(b => b.Max(c => Head(columns[c], cell).Length) * HeadStep + 3)];
        float body = rows.Sum(Height);
        FigurePage page = new(style, top + heads.Sum() + body * blocks.Length + BlockGap * blocks.Length + FigureTheme.Margin);
        FigureTitle.Write(page, request.Title, width);
        float y = top;
        for (int b = 0; b < blocks.Length; b++)
        {
            DrawBlock(page, missing, columns, rows, blocks[b], y, heads[b], cell, labels);
            y += heads[b] + body + BlockGap;
        }
        return new FigureDrawing(page, Caption(results), Words(request, missing), Data(missing)) { Method = "Missing values counted in the rows of each measure's own level, after checks; nothing was estimated." };
    }

    private static float Height(ImmutableArray<string> label) => Math.Max(CellHeight, label.Length * HeadStep + 4);

    private static ImmutableArray<string> Head(string name, float cell) => Lettering.Wrap(name, FigureTheme.SmallSize, cell - 3, 4, bold: true);

    private static void DrawBlock(
        FigurePage page, MissingFacts missing, ImmutableArray<string> columns, ImmutableArray<ImmutableArray<string>> rows, int[] block, float top, float head, float cell, float labels)
    {
        for (int c = 0; c < block.Length; c++)
        {
            ImmutableArray<string> name = Head(columns[block[c]], cell);
            page.WriteLines(name, Left(c, cell, labels) + cell / 2, top + head - 4 - (name.Length - 1) * HeadStep, FigureTheme.SmallSize, TextAnchor.Middle, bold: true);
        }
        float y = top + head;
        for (int r = 0; r < rows.Length; r++)
        {
            float height = Height(rows[r]), first = y + (height - rows[r].Length * HeadStep) / 2 + HeadStep * 0.8f;
            page.WriteLines(rows[r], FigureTheme.Margin, first, FigureTheme.SmallSize);
            for (int c = 0; c < block.Length; c++)
                DrawCell(page, Share(missing.Map[r], block[c]), new SKRect(Left(c, cell, labels) + Gap, y + Gap, Left(c, cell, labels) + cell, y + height));
            y += height;
        }
    }

    private static float Left(int column, float cell, float labels) => FigureTheme.Margin + labels + column * cell;

    private static double? Share(MissingLine line, int column)
        => column > 0 ? line.ByGroup[column - 1] : line.Rows == 0 ? null : line.Missing / (double)line.Rows;

    private static void DrawCell(FigurePage page, double? share, SKRect cell)
    {
        if (share is { } value)
            page.Box(cell, page.Style.Series(0).WithAlpha((byte)Math.Round(Strongest * Math.Sqrt(value))), page.Style.Grid);
        else
            page.Line(cell.Left + 3, cell.MidY, cell.Right - 3, cell.MidY, page.Style.Rule, FigureTheme.GridWidth);
        if (share is { } number)
            page.Write(Text(number), cell.MidX, cell.MidY + 0.35f * FigureTheme.TextSize, anchor: TextAnchor.Middle);
    }

    /// <summary>Whole per cents, but never 0% for some or 100% for not quite all.</summary>
    private static string Text(double share) => share is > 0 and < 0.005 ? "<1%" : share is > 0.995 and < 1 ? ">99%" : NumberFormat.Percent(share);

    private static string Caption(StudyResults results)
        => $"Share of rows without a value, by measure (number of rows) and site; {NumberFormat.Count(results.Missing.Map.Count(m => m.Missing > 0))} of {NumberFormat.Count(results.Missing.Map.Length)} measures have gaps. A dash: no rows.";

    private static string Words(FigureRequest request, MissingFacts missing)
        => $"{request.Title}. Missing values by measure and site. " + string.Join(" ", missing.Map.OrderByDescending(m => m.Rows == 0 ? 0 : m.Missing / (double)m.Rows).Take(8)
            .Select(m => $"{m.Label}: {NumberFormat.Count(m.Missing)} of {NumberFormat.Count(m.Rows)}."));

    private static FlatTable Data(MissingFacts missing) => new(
        ["measure", "rows", "missing", .. missing.Groups.Select(g => $"share_missing: {g}")],
        [.. missing.Map.Select(m => ImmutableArray.CreateRange<FlatCell>([m.Label, m.Rows, m.Missing, .. m.ByGroup.Select(g => (FlatCell)g)]))]);
}
