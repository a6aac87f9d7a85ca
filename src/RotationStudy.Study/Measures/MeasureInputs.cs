using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>What a measure is made of, and who uses it.</summary>
internal static class MeasureInputs
{
    /// <summary>Ids of the measures that a measure refers to directly.</summary>
    internal static IEnumerable<string> Of(MeasureDefinition measure) => measure switch
    {
        PairMeasure m => [m.First, m.Second],
        SideDifferenceMeasure m => [m.Of],
        SideMeanMeasure m => [m.Of],
        GroupsMeasure m => [m.Of],
        EventCountMeasure m => [m.FollowUp],
        AnyEventMeasure m => [m.FollowUp],
        FirstEventDayMeasure m => [m.FollowUp],
        NormMeasure m => new[] { m.Of, m.Age, m.Sex, m.Day }.OfType<string>(),
        PairPatternMeasure m => [m.First, m.Second],
        ConvertedMeasure m => [m.Of],
        ScoreBoundMeasure m => [m.Of],
        CutOffMeasure m => [m.Of, m.Age],
        SideReadingMeasure m => [m.Positive.Column],
        FirstOfMeasure m => [m.FollowUp],
        FirstOfDayMeasure m => [m.Of],
        AfterMeasure m => [m.FollowUp],
        InOrderMeasure m => m.Of,
        OwnWeeksMeasure m => [m.Of],
        MeaningfulChangeMeasure m => [m.From, m.To],
        ClinicalFlagMeasure m => m.Conditions.Select(c => c.Measure),
        _ => [],
    };

    /// <summary>The parts that a measure plays in a question, in words; empty when it plays none.</summary>
    internal static IEnumerable<string> RolesIn(QuestionDefinition question, string id)
    {
        if (question.Outcome == id)
            yield return "outcome";
        if (question.Event == id)
            yield return "event";
        if (question.Exit == id || question.FollowUp == id || question.Entry == id)
            yield return "time";
        if (question.Exposures.Any(e => e.Measure == id))
            yield return "exposure";
        if (question.Adjustment.Any(a => a.Measure == id))
            yield return "adjusted for";
        if (question.GroupBy == id)
            yield return "grouping";
        if (question.Characteristics.Contains(id))
            yield return "described";
        if (question.Summaries.Contains(id))
            yield return "summary of curves";
        if (question.Keep?.Measure == id)
            yield return "selection of rows";
    }
}
