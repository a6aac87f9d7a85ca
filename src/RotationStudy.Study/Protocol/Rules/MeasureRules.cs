using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of the measures, in their order: a measure without a fault is learnt, and later ones may refer to it.</summary>
internal static class MeasureRules
{
    internal static void Check(RuleContext context)
    {
        NormRules.CheckAll(context);
        BackgroundRules.CheckMethods(context);
        context.Unique(context.Protocol.Measures.Select(m => (m.Id, m.Place, "id")), "measure");
        foreach (MeasureDefinition measure in context.Protocol.Measures)
        {
            int before = context.Faults;
            context.PlainName(measure.Id, measure.Place, "id");
            if (measure.Unit is { } unit && !Units.All.Contains(unit))
                context.Fault(measure.Place, "unit", $"Unknown unit '{unit}'.", NearestName.Hint(unit, Units.All));
            if (measure is not ValueMeasure && measure.Source is null)
            {
                context.Fault(
                    measure.Place, "source", $"Measure '{measure.Id}' has no source.",
                    "Name its source, or write 'common practice, no source'.");
            }
            BackgroundRules.Check(measure, context);
            if (NatureOf(measure, context) is { } nature && context.Faults == before)
                context.Learn(measure.Id, nature);
        }
    }

    private static ValueNature? NatureOf(MeasureDefinition measure, RuleContext context) => measure switch
    {
        ValueMeasure m => ValueMeasureRules.Check(m, context),
        PairMeasure m => CheckPair(m, context),
        SideDifferenceMeasure m => CheckOfSides(m, m.Of, context),
        SideMeanMeasure m => CheckOfSides(m, m.Of, context) is { } mean ? mean with { Level = context.Protocol.LevelOf(m) } : null,
        CriteriaScoreMeasure m => CriteriaScoreRules.Check(m, context),
        GroupsMeasure m => CheckGroups(m, context),
        FollowUpMeasure m => EventMeasureRules.CheckFollowUp(m, context),
        EventCountMeasure m => EventMeasureRules.Check(m, m.Events, m.FollowUp, ValueKind.WholeNumber, context),
        AnyEventMeasure m => EventMeasureRules.Check(m, m.Events, m.FollowUp, ValueKind.YesNo, context),
        FirstEventDayMeasure m => EventMeasureRules.Check(m, m.Events, m.FollowUp, ValueKind.Number, context),
        EntryMeasure m => CourseMeasureRules.Check(m, context),
        FirstOfMeasure m => CourseMeasureRules.Check(m, context),
        FirstOfDayMeasure m => CourseMeasureRules.Check(m, context),
        AfterMeasure m => CourseMeasureRules.Check(m, context),
        InOrderMeasure m => CourseMeasureRules.Check(m, context),
        WeeklyMeasure m => DiaryMeasureRules.Check(m, context),
        WeeklyChangesMeasure m => DiaryMeasureRules.Check(m, context),
        OwnWeeksMeasure m => DiaryMeasureRules.Check(m, context),
        OutcomeScoreMeasure m => OutcomeMeasureRules.Check(m, context),
        MeaningfulChangeMeasure m => OutcomeMeasureRules.Check(m, context),
        ClinicalFlagMeasure m => OutcomeMeasureRules.Check(m, context),
        NormMeasure m => ReadingMeasureRules.CheckNorm(m, context),
        PairPatternMeasure m => ReadingMeasureRules.CheckPattern(m, context),
        ConvertedMeasure m => ReadingMeasureRules.CheckConverted(m, context),
        ScoreBoundMeasure m => ReadingMeasureRules.CheckBound(m, context),
        CutOffMeasure m => ReadingMeasureRules.CheckCutOff(m, context),
        SideReadingMeasure m => ReadingMeasureRules.CheckSideReading(m, context),
        ChangePerYearMeasure m => RecordedMeasureRules.CheckChange(m, context),
        GradeMeasure m => RecordedMeasureRules.CheckGrade(m, context),
        CurveSummaryMeasure m => CurveRules.Check(m, context),
        _ => null,
    };

    private static ValueNature? CheckPair(PairMeasure measure, RuleContext context)
    {
        ValueNature? first = NumberAbove(measure, "first", measure.First, context);
        ValueNature? second = NumberAbove(measure, "second", measure.Second, context);
        if (first is null || second is null)
            return null;
        if (measure.Operation != PairOperation.Product)
        {
            if (first.Unit != second.Unit)
            {
                context.Fault(
                    measure.Place, "second",
                    $"'{measure.First}' is in {first.Unit ?? "no unit"}, '{measure.Second}' in {second.Unit ?? "no unit"}.",
                    "Add and subtract values of one unit.");
            }
            else
                SameUnit(measure, first.Unit, context);
        }
        return new ValueNature(context.Protocol.LevelOf(measure), ValueKind.Number, [], measure.Unit);
    }

    private static ValueNature? CheckOfSides(MeasureDefinition measure, string id, RuleContext context)
    {
        if (NumberAbove(measure, "of", id, context) is not { } of)
            return null;
        if (!of.Level.HasSides())
        {
            context.Fault(
                measure.Place, "of",
                $"'{id}' has one value per {ValueNature.Words(of.Level)}, not one per side.",
                "Name a measure of a table with sides.");
        }
        SameUnit(measure, of.Unit, context);
        return of with { Kind = ValueKind.Number };
    }

    private static ValueNature? CheckGroups(GroupsMeasure measure, RuleContext context)
    {
        ValueNature? of = NumberAbove(measure, "of", measure.Of, context);
        if (measure.CutPoints.IsEmpty)
        {
            context.Fault(
                measure.Place, "cut_points", $"Measure '{measure.Id}' has no cut points.",
                "List them in increasing order.");
        }
        for (int i = 1; i < measure.CutPoints.Length; i++)
        {
            if (measure.CutPoints[i] <= measure.CutPoints[i - 1])
            {
                context.Fault(
                    measure.Place, $"cut_points[{i}]", "Cut points must increase.",
                    "Order them from low to high, each once.");
            }
        }
        if (measure.Labels.Length != measure.CutPoints.Length + 1)
        {
            context.Fault(
                measure.Place, "labels",
                $"{measure.CutPoints.Length} cut points make {measure.CutPoints.Length + 1} groups, but {measure.Labels.Length} labels are given.",
                "Give one label per group, lowest first.");
        }
        context.Unique(measure.Labels.Select((l, i) => (l, measure.Place, $"labels[{i}]")), "label");
        return of is null ? null : new ValueNature(of.Level, ValueKind.Code, measure.Labels, null);
    }

    /// <summary>A measure above that has numbers.</summary>
    internal static ValueNature? NumberAbove(MeasureDefinition measure, string path, string id, RuleContext context)
    {
        if (context.MeasureAbove(measure, path, id) is not { } nature)
            return null;
        if (nature.IsNumeric)
            return nature;
        context.Fault(measure.Place, path, $"Measure '{id}' has no numbers.", "Name a measure of numbers.");
        return null;
    }

    /// <summary>The unit follows from what the measure is made of; writing it again guards against slips.</summary>
    internal static void SameUnit(MeasureDefinition measure, string? unit, RuleContext context)
    {
        if (measure.Unit != unit)
        {
            context.Fault(
                measure.Place, "unit",
                $"Measure '{measure.Id}' says {measure.Unit ?? "no unit"}, but its values are in {unit ?? "no unit"}.",
                unit is null ? "Remove 'unit'." : $"Write unit: {unit}.");
        }
    }
}
