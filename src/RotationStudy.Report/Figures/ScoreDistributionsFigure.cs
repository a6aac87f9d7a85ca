using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>How often each value of a score occurs, a panel per definition on one axis, so that the definitions can be compared.</summary>
internal static class ScoreDistributionsFigure
{
    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        ScoreDistribution[] scores = [.. (results.Values.Scores.FirstOrDefault(s => s.Figure == request.Id)?.Definitions ?? []).Where(d => !d.Values.IsEmpty)];
        if (scores.Length == 0)
            return FigureDrawing.Without(request, style, "Nobody has a value of the score.");
        SmallCounts small = new(results.Study.SmallestPrintedCount);
        double low = scores.Min(s => s.Values[0]), high = scores.Max(s => s.Values[^1]), step = Step(scores);
        AxisScale x = AxisScale.Between(low - step * 0.7, high + step * 0.7, 10);
        if (step == 1)
            x = x.WholeNumbers();
        PlotFrame frame = new(x, PanelBars.Shares(scores.Max(s => s.Participants.Max() / (double)s.Participants.Sum())), "Value of the score", $"Share of {results.Study.ParticipantMany}")
        {
            Height = 110,
            Key = scores.Any(s => s.Participants.Any(small.Hides)) ? MarkKey.Of(new(KeySymbol.Box, 0, "share"), new KeyEntry(KeySymbol.EmptyBox, 0, $"fewer than {small.Smallest}, not printed")) : MarkKey.None,
        };
        PanelGrid grid = PanelGrid.Lay(request, style, frame, [.. scores.Select(Head)]);
        for (int i = 0; i < scores.Length; i++)
        {
            double all = scores[i].Participants.Sum();
            PanelBars.Draw(grid.Page, grid.Panels[i], grid.Plots[i], scores[i].Values.Select((v, k) =>
                small.Hides(scores[i].Participants[k]) ? new PanelBar(v, small.Smallest / all, 0, true) : new PanelBar(v, scores[i].Participants[k] / all, 0)), step);
            if (scores[i].Mean is { } mean)
                grid.Page.Polygon(style.Ink, new(grid.Panels[i].ToX(mean), grid.Panels[i].Area.Top + 6), new(grid.Panels[i].ToX(mean) - 3, grid.Panels[i].Area.Top), new(grid.Panels[i].ToX(mean) + 3, grid.Panels[i].Area.Top));
        }
        return new FigureDrawing(grid.Page, Caption(results.Study, small, scores), Words(results.Study, request, scores), Data(small, scores)) { Method = "Values counted as they are; nothing was estimated." };
    }

    private static double Step(ScoreDistribution[] scores)
    {
        double[] all = [.. scores.SelectMany(s => s.Values).Distinct().Order()];
        return all.Length < 2 ? 1 : all.Zip(all.Skip(1), (a, b) => b - a).Min();
    }

    private static string Head(ScoreDistribution score) => $"{score.Label}\nn = {NumberFormat.Count(score.Participants.Sum())}";

    private static string Caption(StudyFacts study, SmallCounts small, ScoreDistribution[] scores)
    {
        string without = string.Join(" ", scores.Where(s => s.Without > 0).Select(s => $"{s.Label}: {small.Words(s.Without, study.ParticipantOne, study.ParticipantMany)} without a value."));
        return $"n: {study.ParticipantMany} with a value. Triangles: means ({string.Join("; ", scores.Where(s => s.Mean is not null).Select(s => NumberFormat.Fixed(s.Mean!.Value, 1)))}). The definitions are not pooled. {without}".TrimEnd();
    }

    private static string Words(StudyFacts study, FigureRequest request, ScoreDistribution[] scores)
        => $"{request.Title}. " + string.Join(" ", scores.Select(s =>
            $"{s.Label}: {NumberFormat.Count(s.Participants.Sum(), study.ParticipantOne, study.ParticipantMany)} from {NumberFormat.Brief(s.Values[0])} to {NumberFormat.Brief(s.Values[^1])}, mean {NumberFormat.Fixed(s.Mean ?? 0, 1)}, commonest {NumberFormat.Brief(s.Values[s.Participants.IndexOf(s.Participants.Max())])}."));

    private static FlatTable Data(SmallCounts small, ScoreDistribution[] scores) => new(
        ["definition", "value", "participants"],
        [.. scores.SelectMany(s => s.Values.Select((v, i) => FlatRow.Of(s.Label, v, small.Hides(s.Participants[i]) ? (FlatCell)small.Text(s.Participants[i]) : s.Participants[i])))]);
}
