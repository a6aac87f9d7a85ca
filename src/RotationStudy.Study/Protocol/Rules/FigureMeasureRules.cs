namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of the figures that draw measures: how many, of which level and kind.</summary>
internal static class FigureMeasureRules
{
    /// <summary>Whether a kind of figure draws measures or the whole study, and no question.</summary>
    internal static bool DrawsNoQuestion(FigureKind kind)
        => kind is FigureKind.ParticipantFlow or FigureKind.MissingMap || DrawsMeasures(kind);

    internal static void Check(FigureDefinition figure, RuleContext context)
    {
        CheckUse(figure, context);
        if (!DrawsMeasures(figure.Kind))
            return;
        int needed = figure.Kind is FigureKind.PairedPoints or FigureKind.ScatterPanels ? 2 : 1;
        bool exact = needed == 2 || figure.Kind == FigureKind.SideSlopes;
        if (figure.Measures.Length < needed || (exact && figure.Measures.Length > needed))
        {
            context.Fault(
                figure.Place, "measures", $"Figure '{figure.Id}' draws {(exact ? "exactly" : "at least")} {(needed == 2 ? "two measures" : "one measure")}.",
                "Name the measures.");
        }
        for (int i = 0; i < figure.Measures.Length; i++)
            CheckMeasure(figure, i, context);
        if (context.Measure(figure.Place, "marks", figure.Marks) is { IsGrouping: false })
            context.Fault(figure.Place, "marks", $"'{figure.Marks}' does not say which rows are marked.", "Name a measure of kind any_event, or one of codes.");
        if (context.Measure(figure.Place, "by", figure.By) is { IsGrouping: false })
            context.Fault(figure.Place, "by", $"'{figure.By}' makes no groups.", "Name a measure of codes, of kind groups, or of kind any_event.");
    }

    private static bool DrawsMeasures(FigureKind kind)
        => kind is FigureKind.PairedPoints or FigureKind.SideSlopes or FigureKind.DigitHeaping or FigureKind.ScoreDistributions
            or FigureKind.MilestoneCurves or FigureKind.DiaryStrips or FigureKind.ScatterPanels;

    private static void CheckUse(FigureDefinition figure, RuleContext context)
    {
        if (!DrawsMeasures(figure.Kind) && figure.Measures.Length > 0)
            context.Fault(figure.Place, "measures", "This kind of figure draws no measures of its own.", "Remove 'measures'.");
        if (figure.Marks is not null && figure.Kind is not (FigureKind.PairedPoints or FigureKind.SideSlopes or FigureKind.ScatterPanels))
            context.Fault(figure.Place, "marks", "This kind of figure marks no rows.", "Remove 'marks'.");
        if (figure.By is not null && figure.Kind != FigureKind.ScatterPanels)
            context.Fault(figure.Place, "by", "Only a figure of kind scatter_panels is split.", "Remove 'by'.");
        if (figure.By is null && figure.Kind == FigureKind.ScatterPanels)
            context.Fault(figure.Place, "by", "A figure of kind scatter_panels needs a measure that makes its panels.", "Name a measure of codes, such as site or sex.");
    }

    private static void CheckMeasure(FigureDefinition figure, int at, RuleContext context)
    {
        string id = figure.Measures[at];
        if (context.Measure(figure.Place, $"measures[{at}]", id) is not { } nature)
            return;
        MeasureDefinition? measure = context.Protocol.Measures.FirstOrDefault(m => m.Id == id);
        (bool suits, string needed) = figure.Kind switch
        {
            FigureKind.PairedPoints or FigureKind.SideSlopes => (nature is { IsNumeric: true, Level: RowLevel.Unit }, "a measure of numbers with one value per side"),
            FigureKind.ScatterPanels => (nature.IsNumeric && nature.Level is RowLevel.Unit or RowLevel.Participant, "a measure of numbers with one value per side or participant"),
            FigureKind.DigitHeaping => (measure is ValueMeasure && nature.IsNumeric, "a measure of kind value that reads a column of numbers"),
            FigureKind.ScoreDistributions => (nature is { IsNumeric: true, Level: RowLevel.Participant }, "a score with one value per participant"),
            FigureKind.MilestoneCurves => (measure is AfterMeasure { Value: AfterValue.TimeAfter }, "a measure of kind time_after"),
            _ => (measure is WeeklyMeasure, "a measure of the weeks of a diary"),
        };
        if (!suits)
            context.Fault(figure.Place, $"measures[{at}]", $"'{id}' cannot be drawn by this kind of figure.", $"Name {needed}.");
    }
}
