using System.Collections.Immutable;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>The lines of a forest from top to bottom.</summary>
/// <param name="Lines">Lines.</param>
internal sealed record ForestRows(ImmutableArray<ForestLine> Lines)
{
    /// <summary>The exposures of a question that have an estimate.</summary>
    internal static ImmutableArray<EstimateRow> Exposures(QuestionResult question)
        => question.Answered ? [.. question.Estimates.Where(e => e.Role == "exposure")] : [];

    internal static ForestRows Of(ImmutableArray<QuestionResult> questions, float labelWidth, bool numbersBelow = false)
    {
        List<ForestLine> lines = [];
        foreach (QuestionResult question in questions)
        {
            ImmutableArray<EstimateRow> rows = Exposures(question);
            string scale = rows.IsEmpty || question.Id.Length == 0 ? "" : $" ({rows[0].Scale})";
            lines.Add(new ForestLine(Lettering.Wrap($"{question.Id} {question.Title}{scale}".TrimStart(), FigureTheme.TextSize, labelWidth, 3, bold: true), "", null, IsHeading: true));
            lines.AddRange(rows.Select(r => new ForestLine(
                [.. Lettering.Wrap(r.Label, FigureTheme.TextSize, labelWidth - 8, 3), .. numbersBelow ? Lettering.Wrap(Numbers(r), FigureTheme.TextSize, labelWidth - 8) : []],
                numbersBelow ? "" : Numbers(r), r)));
            if (rows.IsEmpty)
                lines.Add(new ForestLine(Lettering.Wrap("no estimate: see the report", FigureTheme.TextSize, labelWidth - 8, 3), "", null, IsNote: true));
        }
        return new ForestRows([.. lines]);
    }

    private static string Numbers(EstimateRow row)
        => NumberFormat.EstimateAndInterval(row) + (row.Unit is { Length: > 0 } unit ? " " + unit : "");
}

/// <summary>One line of a forest.</summary>
/// <param name="Label">Label, in one or more lines of text.</param>
/// <param name="Numbers">Estimate and interval; empty for a heading or a note.</param>
/// <param name="Estimate">The estimate; null for a heading or a note.</param>
/// <param name="IsHeading">Whether the line names a question.</param>
/// <param name="IsNote">Whether the line says that there is no estimate.</param>
internal sealed record ForestLine(
    ImmutableArray<string> Label, string Numbers, EstimateRow? Estimate, bool IsHeading = false, bool IsNote = false);
