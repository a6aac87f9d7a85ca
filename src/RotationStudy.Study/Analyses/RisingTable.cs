using System.Collections.Immutable;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Curves that rise from zero, read off at round times.</summary>
internal static class RisingTable
{
    internal static ResultTable Build(string id, string caption, ImmutableArray<RisingCurves> all, string? timeUnit, Func<double, string> text, string footnote)
    {
        double[] at = all.IsEmpty ? [] : [.. all[0].Curves[0].AtRiskTimes.Skip(1)];
        List<TableRow> rows = [];
        foreach (RisingCurves ofEvent in all)
        {
            bool grouped = ofEvent.Curves.Any(c => c.Group.Length > 0);
            if (grouped)
                rows.Add(new TableRow([new TableCell(ofEvent.Title, null), .. at.Select(_ => new TableCell(string.Empty, null))], 0));
            rows.AddRange(ofEvent.Curves.Select(c => new TableRow(
                [new TableCell(grouped ? c.Group : ofEvent.Title, null), .. at.Select(t => Cell(c, t, text))], grouped ? 1 : 0)));
        }
        return new ResultTable(id, caption, ["Event", .. at.Select(t => FormattableString.Invariant($"{t:0.##} {timeUnit}"))], [.. rows], [footnote]);
    }

    private static TableCell Cell(RisingCurve curve, double time, Func<double, string> text)
    {
        if (time > curve.End)
            return new TableCell("–", null);
        int step = curve.Times.ToList().FindLastIndex(t => t <= time);
        return step < 0
            ? new TableCell(text(0), 0)
            : new TableCell($"{text(curve.Value[step])} ({text(curve.Lower[step])} to {text(curve.Upper[step])})", curve.Value[step]);
    }
}
