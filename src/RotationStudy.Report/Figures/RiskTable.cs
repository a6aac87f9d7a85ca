using System.Collections.Immutable;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Numbers at risk and events so far, each cell centred under its tick of the time axis.</summary>
/// <param name="Times">Times that have a column; thinned where columns would touch.</param>
/// <param name="Rows">One row per group.</param>
/// <param name="LabelWidth">Room that the row labels and the overhang of the first cell need to the left of the axis.</param>
/// <param name="CellWidth">Width of the widest cell.</param>
internal sealed record RiskTable(ImmutableArray<double> Times, ImmutableArray<RiskRow> Rows, float LabelWidth, float CellWidth)
{
    private const string Head = "At risk (events so far)";
    private const float LineStep = FigureTheme.TextSize * 1.25f, RowGap = 2.5f, LongestLabel = 0.25f, PlotAtLeast = 0.52f;

    /// <summary>Height of all rows.</summary>
    internal float Height => Rows.Sum(r => r.Label.Length * LineStep + RowGap);

    internal static RiskTable Of(ImmutableArray<EventFreeCurve> curves, SmallCounts small, FigureStyle style)
    {
        ImmutableArray<double> all = curves.MaxBy(c => c.AtRiskTimes.Length)!.AtRiskTimes;
        if (all.IsEmpty)
            all = [0];
        string Cell(EventFreeCurve c, int i) => i < c.AtRisk.Length ? $"{small.Text(c.AtRisk[i])} ({small.Text(c.EventsSoFar[i])})" : "0";
        float cell = curves.Max(c => Enumerable.Range(0, all.Length).Max(i => Lettering.Width(Cell(c, i), FigureTheme.TextSize)));
        int every = Math.Max(1, (int)Math.Ceiling(all.Length * (cell + 6) / (PlotAtLeast * style.Width)));
        int[] kept = [.. Enumerable.Range(0, all.Length).Where(i => i % every == 0)];
        ImmutableArray<RiskRow> rows =
        [
            .. curves.Select(c => new RiskRow(
                Lettering.Wrap(c.Group.Length > 0 ? c.Group : "all", FigureTheme.TextSize, LongestLabel * style.Width, 2),
                [.. kept.Select(i => Cell(c, i))])),
        ];
        float label = rows.Max(r => r.Label.Max(l => Lettering.Width(l, FigureTheme.TextSize)));
        return new RiskTable([.. kept.Select(i => all[i])], rows, label + cell / 2, cell);
    }

    /// <summary>Fewer columns, where cells would touch on an axis of that length.</summary>
    internal RiskTable Fitting(float length, double end)
    {
        if (Times.Length < 2 || (Times[1] - Times[0]) / end * length >= CellWidth + 4)
            return this;
        return (this with { Times = [.. Times.Where((_, i) => i % 2 == 0)], Rows = [.. Rows.Select(r => r with { Cells = [.. r.Cells.Where((_, i) => i % 2 == 0)] })] }).Fitting(length, end);
    }

    /// <summary>Writes the table below the axis.</summary>
    internal void Write(FigurePage page, PlotArea area, float top)
    {
        float y = top + FigureTheme.TextSize;
        page.Write(Head, FigureTheme.Margin, y, color: page.Style.QuietInk, bold: true);
        y += LineStep + RowGap;
        for (int row = 0; row < Rows.Length; row++)
        {
            SKColor color = page.Style.Series(row);
            for (int line = 0; line < Rows[row].Label.Length; line++)
                page.Write(Rows[row].Label[line], FigureTheme.Margin, y + line * LineStep, color: color);
            for (int i = 0; i < Times.Length; i++)
                page.Write(Rows[row].Cells[i], area.ToX(Times[i]), y, anchor: TextAnchor.Middle);
            y += Rows[row].Label.Length * LineStep + RowGap;
        }
    }
}

/// <summary>A row of the table.</summary>
/// <param name="Label">Group, in one or two lines.</param>
/// <param name="Cells">One cell per kept time.</param>
internal sealed record RiskRow(ImmutableArray<string> Label, ImmutableArray<string> Cells);
