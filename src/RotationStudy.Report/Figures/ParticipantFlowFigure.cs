using System.Collections.Immutable;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Who was enrolled, left out and analysed: a trunk of boxes downwards, reasons to the right, and a branch for each question.</summary>
internal static class ParticipantFlowFigure
{
    private const float BoxShare = 0.42f, AsideGap = 0.105f, Pad = 5, Gap = 20, BranchGap = 9, BranchIndent = 22;
    private const float LineStep = FigureTheme.TextSize * FigureTheme.LineHeight, SmallStep = FigureTheme.SmallSize * FigureTheme.LineHeight;

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        if (results.Flow.IsEmpty)
            return FigureDrawing.Without(request, style, "No flow was recorded.");
        float width = style.Width - 2 * FigureTheme.Margin;
        float top = FigureTitle.Height(request.Title, width);
        ImmutableArray<PlacedStep> placed = Place(results, style, top, out float bottom);
        FigurePage page = new(style, bottom + FigureTheme.Margin);
        FigureTitle.Write(page, request.Title, width);
        DrawTrunk(page, [.. placed.Where(p => p.Step.Branch is null)]);
        DrawBranches(page, placed);
        foreach (PlacedStep step in placed)
            DrawBoxes(page, step);
        return new FigureDrawing(page, FlowWords.Caption(results), FlowWords.AlternativeText(results, request), FlowWords.Data(results));
    }

    private static ImmutableArray<PlacedStep> Place(StudyResults results, FigureStyle style, float top, out float bottom)
    {
        float trunk = BoxShare * (style.Width - 2 * FigureTheme.Margin), asideLeft = FigureTheme.Margin + trunk + AsideGap * (style.Width - 2 * FigureTheme.Margin);
        int lines = style.IsNarrow ? 9 : 4;
        List<PlacedStep> placed = [];
        float y = top;
        foreach (FlowStep step in results.Flow.OrderBy(s => s.Branch is not null))
        {
            bool branch = step.Branch is not null;
            float left = FigureTheme.Margin + (branch ? BranchIndent : 0), boxWidth = trunk - (branch ? BranchIndent : 0);
            ImmutableArray<string> head = Lettering.Wrap(FlowWords.BoxLabel(step), FigureTheme.TextSize, boxWidth - 2 * Pad, lines, bold: true);
            ImmutableArray<string> body = Lettering.Wrap(FlowWords.Counts(results.Study, step.Participants, step.Units), FigureTheme.TextSize, boxWidth - 2 * Pad, 4);
            ImmutableArray<string> aside = [.. FlowWords.LeftOut(results.Study, step).SelectMany(l => Lettering.Wrap(l, FigureTheme.SmallSize, style.Width - FigureTheme.Margin - asideLeft - 2 * Pad, lines))];
            float boxHeight = 2 * Pad + (head.Length + body.Length) * LineStep, asideHeight = aside.IsEmpty ? 0 : 2 * Pad + aside.Length * SmallStep;
            float before = placed.Count == 0 ? 0 : branch ? BranchGap : Math.Max(Gap, asideHeight + 8);
            float row = branch ? Math.Max(boxHeight, asideHeight) : boxHeight;
            float boxTop = y + before + (row - boxHeight) / 2;
            float asideTop = branch ? y + before + (row - asideHeight) / 2 : y + (before - asideHeight) / 2;
            placed.Add(new PlacedStep(
                step, head, body, aside,
                new SKRect(left, boxTop, left + boxWidth, boxTop + boxHeight),
                new SKRect(asideLeft, asideTop, style.Width - FigureTheme.Margin, asideTop + asideHeight)));
            y += before + row;
        }
        bottom = y;
        return [.. placed];
    }

    private static void DrawTrunk(FigurePage page, ImmutableArray<PlacedStep> trunk)
    {
        for (int i = 1; i < trunk.Length; i++)
        {
            float x = trunk[i].Box.MidX;
            page.Arrow(x, trunk[i - 1].Box.Bottom, x, trunk[i].Box.Top);
            if (!trunk[i].Aside.IsEmpty)
                page.Arrow(x, trunk[i].AsideBox.MidY, trunk[i].AsideBox.Left, trunk[i].AsideBox.MidY);
        }
    }

    private static void DrawBranches(FigurePage page, ImmutableArray<PlacedStep> placed)
    {
        ImmutableArray<PlacedStep> branches = [.. placed.Where(p => p.Step.Branch is not null)];
        PlacedStep? last = placed.LastOrDefault(p => p.Step.Branch is null);
        if (branches.IsEmpty)
            return;
        float spine = FigureTheme.Margin + BranchIndent / 2;
        page.Line(spine, last?.Box.Bottom ?? branches[0].Box.Top, spine, branches[^1].Box.MidY);
        foreach (PlacedStep branch in branches)
        {
            page.Arrow(spine, branch.Box.MidY, branch.Box.Left, branch.Box.MidY);
            if (!branch.Aside.IsEmpty)
                page.Line(branch.Box.Right, branch.AsideBox.MidY, branch.AsideBox.Left, branch.AsideBox.MidY, page.Style.Rule, FigureTheme.AxisWidth, 3, 2);
        }
    }

    private static void DrawBoxes(FigurePage page, PlacedStep step)
    {
        page.Box(step.Box, page.Style.BoxFill, page.Style.Rule);
        float y = page.WriteLines(step.Head, step.Box.Left + Pad, step.Box.Top + Pad + FigureTheme.TextSize, bold: true);
        page.WriteLines(step.Body, step.Box.Left + Pad, y);
        if (step.Aside.IsEmpty)
            return;
        page.Box(step.AsideBox, page.Style.Paper, page.Style.Rule);
        page.WriteLines(step.Aside, step.AsideBox.Left + Pad, step.AsideBox.Top + Pad + FigureTheme.SmallSize, FigureTheme.SmallSize, color: page.Style.QuietInk);
    }

    private sealed record PlacedStep(
        FlowStep Step, ImmutableArray<string> Head, ImmutableArray<string> Body, ImmutableArray<string> Aside, SKRect Box, SKRect AsideBox);
}
