using System.Globalization;
using RotationStudy.Statistics.Curves;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Says in words what measures are that read another measure: against norms, over time, by cut-offs, beside the other side.</summary>
internal static class ReadingWords
{
    /// <summary>The words, or null for a measure of another kind.</summary>
    internal static string? Describe(MeasureDefinition measure, StudyProtocol protocol) => measure switch
    {
        NormMeasure m => Norm(m, protocol),
        ChangePerYearMeasure m => Change(m, protocol),
        PairPatternMeasure m => string.Create(CultureInfo.InvariantCulture, $"{protocol.Measure(m.First).Label}, usual {m.FirstUsual.Lowest:0.##} to {m.FirstUsual.Highest:0.##}, beside {protocol.Measure(m.Second).Label}, usual {m.SecondUsual.Lowest:0.##} to {m.SecondUsual.Highest:0.##}: {m.Labels.BothUsual}; {m.Labels.OneUnusual}; {m.Labels.SameDirection} (both above or both below); {m.Labels.OppositeDirections} (one above, one below)."),
        ConvertedMeasure m => string.Create(CultureInfo.InvariantCulture, $"{protocol.Measure(m.Of).Label} turned into method {m.Relation.ToMethod}: {m.Relation.Intercept:0.###} plus {m.Relation.Slope:0.###} times the value; standard deviation about the line {m.Relation.ResidualDeviation:0.###} ({m.Relation.Source}; {m.Relation.Evidence.Words()})."),
        ScoreBoundMeasure m => Bound(m, protocol),
        CutOffMeasure m => $"{protocol.Measure(m.Of).Label}: {CutOffReading.Words(m, ((CriteriaScoreMeasure)protocol.Measure(m.Of)).Components.Length)}. A score with components missing is read only where its lowest and highest possible value agree.",
        SideReadingMeasure m => Side(m, protocol),
        GradeMeasure m => Grade(m, protocol),
        CurveSummaryMeasure m => Curve(m, protocol),
        _ => null,
    };

    private static string Norm(NormMeasure m, StudyProtocol protocol)
    {
        Norm norm = protocol.Norm(m.Norm);
        string read = m.Use switch
        {
            NormUse.ZScore => "in standard deviations from the mean of",
            NormUse.Centile => "as the percentage at or below it in",
            NormUse.Difference => "minus the mean of",
            _ => "below, within or above the range of",
        };
        string day = m.Day is null ? string.Empty : " on the day of the reading";
        return $"{protocol.Measure(m.Of).Label} {read} the norm '{norm.Label}' for the age{day}{(m.Sex is null ? string.Empty : " and sex")}; the norm covers {NormReading.Ages(norm)}, and outside them no number is given.";
    }

    private static string Change(ChangePerYearMeasure m, StudyProtocol protocol)
    {
        TableDefinition table = protocol.Table(m.Table);
        string method = m.Method is null ? string.Empty : $", method {table.Column(m.MethodColumn!)?.Codes.FirstOrDefault(c => c.Code == m.Method)?.Meaning ?? m.Method} only";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Last reading of {table.Column(m.Column)?.Label ?? m.Column} minus the first{method}, over the years between, where they are at least {m.LeastDays} days apart; readings of one day count as their mean.");
    }

    private static string Curve(CurveSummaryMeasure m, StudyProtocol protocol)
    {
        TableDefinition table = protocol.Table(m.Curves.Table);
        string over = MeasureWords.Lower(table.Column(m.Curves.Over)?.Label ?? m.Curves.Over);
        string unit = table.Column(m.Curves.Over)?.Unit is { } u ? " " + u : string.Empty;
        string arc = m.From == m.To
            ? string.Create(CultureInfo.InvariantCulture, $"at {over} {m.From:0.##}{unit}")
            : string.Create(CultureInfo.InvariantCulture, $"over {over} from {m.From:0.##} to {m.To:0.##}{unit}");
        string feature = m.Feature switch
        {
            CurveFeature.Largest => "largest value",
            CurveFeature.Span => "largest less smallest value",
            CurveFeature.Slope => "slope of the least-squares line",
            _ => m.From == m.To ? "value" : "mean height (area over length)",
        };
        return $"{table.Column(m.Curves.Column)?.Label ?? m.Curves.Column}: {feature} {arc}, of the mean curve of {(m.Curves.Trial is null ? "the side" : "its trials")}; missing where a point of the arc has no value.";
    }

    private static string Bound(ScoreBoundMeasure m, StudyProtocol protocol)
    {
        string label = protocol.Measure(m.Of).Label;
        string other = m.MostLost == 0 && m.MostGained == 0 ? string.Empty
            : string.Create(CultureInfo.InvariantCulture, $"; up to {m.MostLost} points may not count and up to {m.MostGained} may come in addition");
        return m.End == BoundEnd.Lowest
            ? $"The lowest value possible, from {label}: missing components count as not met{other}; never below 0."
            : string.Create(CultureInfo.InvariantCulture, $"The highest value possible, from {label}: missing components count as met{other}; never above {m.HighestPossible}.");
    }

    private static string Side(SideReadingMeasure m, StudyProtocol protocol)
    {
        string threshold = m.Positive.Threshold.ToString("0.##", CultureInfo.InvariantCulture);
        string positive = m.Positive.Test switch
        {
            ComponentTest.AtLeast => $"at least {threshold}",
            ComponentTest.MoreThan => $"more than {threshold}",
            _ => $"'{m.Positive.Code}'",
        };
        string more = m.MoreBy is { } by ? string.Create(CultureInfo.InvariantCulture, $"; where both are, this side is 'more' from a difference of {by:0.##}") : string.Empty;
        return $"{protocol.Measure(m.Positive.Column).Label}, positive when {positive}, read beside the other side of the same person: positive on both sides is marked so{more}.";
    }

    private static string Grade(GradeMeasure m, StudyProtocol protocol)
    {
        ColumnDefinition? column = protocol.Table(m.Value.Table).Column(m.Value.Column);
        string Meaning(string code) => column?.Codes.FirstOrDefault(c => c.Code == code)?.Meaning ?? code;
        string grades = string.Join("; ", m.Grades.Select(g => $"{g.Label} ({string.Join(", ", g.Codes.Select(Meaning))})"));
        string apart = m.Apart.IsEmpty ? string.Empty : $" Apart from the scale: {string.Join(", ", m.Apart.Select(Meaning))}.";
        return $"Ordered grades, lowest first: {grades}.{apart} Scale: {m.ScaleVersion} {MeasureWords.Recorded(m.Value, protocol)}";
    }
}
