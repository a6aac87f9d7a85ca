using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Derives every measure that the protocol declares from the checked records, in declared order.</summary>
public static class MeasureDeriver
{
    /// <summary>Derives all measures.</summary>
    /// <param name="protocol">The protocol; a measure refers to measures declared before it only (checked by its reader).</param>
    /// <param name="records">Checked records.</param>
    public static DerivedMeasures Derive(StudyProtocol protocol, CheckedRecords records)
    {
        StudyIndex index = new(records, protocol);
        HipFirstGate gate = HipFirstGate.Read(protocol, records, index);
        Derivation derivation = new(protocol, records, index, gate, new Dictionary<string, MeasureColumn>(StringComparer.Ordinal));
        ImmutableArray<MeasureColumn>.Builder columns = ImmutableArray.CreateBuilder<MeasureColumn>(protocol.Measures.Length);
        foreach (MeasureDefinition definition in protocol.Measures)
        {
            MeasureColumn column = Derive(definition, derivation);
            derivation.Done.Add(definition.Id, column);
            columns.Add(column);
        }
        return new DerivedMeasures(index.Keys, columns.ToImmutable(), gate.Listed, index.Levels)
        {
            Waits = [.. columns.Where(c => c.Definition is AfterMeasure { Value: AfterValue.TimeAfter }).Select(c => Wait(c, derivation))],
            Histories = columns.Where(c => c.Definition is EventCountMeasure)
                .ToImmutableDictionary(c => c.Definition.Id, c => UnitEvents.Histories((EventCountMeasure)c.Definition, derivation), StringComparer.Ordinal),
            Readings = protocol.Plan.Questions.Where(q => q.Readings is not null)
                .ToImmutableDictionary(q => q.Id, q => ReadingSet.Read(q.Readings!, derivation), StringComparer.Ordinal),
            Curves = protocol.Plan.Questions.Where(q => q.Curves is not null)
                .ToImmutableDictionary(q => q.Id, q => CurveReadings.Read(q.Curves!, derivation), StringComparer.Ordinal),
        };
    }

    private static WaitedFor Wait(MeasureColumn time, Derivation derivation)
    {
        AfterMeasure measure = (AfterMeasure)time.Definition;
        return new WaitedFor(
            time,
            AfterEvent.Derive(measure with { Value = AfterValue.WatchedAfter }, derivation),
            AfterEvent.Derive(measure with { Value = AfterValue.ReachedAfter }, derivation));
    }

    private static MeasureColumn Derive(MeasureDefinition definition, Derivation derivation) => definition switch
    {
        ValueMeasure measure => RecordedValue.Derive(measure, derivation),
        PairMeasure measure => PairArithmetic.Derive(measure, derivation),
        SideDifferenceMeasure measure => SideDifference.Derive(measure, derivation),
        SideMeanMeasure measure => SideMean.Derive(measure, derivation),
        CriteriaScoreMeasure measure => CriteriaScore.Derive(measure, derivation),
        FollowUpMeasure measure => FollowUpTime.Derive(measure, derivation),
        EventCountMeasure measure => UnitEvents.Count(measure, derivation),
        AnyEventMeasure measure => UnitEvents.Any(measure, derivation),
        FirstEventDayMeasure measure => UnitEvents.FirstDay(measure, derivation),
        GroupsMeasure measure => NamedGroups.Derive(measure, derivation),
        EntryMeasure measure => EntryDay.Derive(measure, derivation),
        FirstOfMeasure measure => FirstOfEvents.Which(measure, derivation),
        FirstOfDayMeasure measure => FirstOfEvents.Day(measure, derivation),
        AfterMeasure measure => AfterEvent.Derive(measure, derivation),
        InOrderMeasure measure => MilestoneOrder.Derive(measure, derivation),
        WeeklyMeasure measure => DiaryWeeks.Values(measure, derivation),
        WeeklyChangesMeasure measure => DiaryWeeks.Changes(measure, derivation),
        OwnWeeksMeasure measure => OwnWeeks.Derive(measure, derivation),
        OutcomeScoreMeasure measure => OutcomeScore.Derive(measure, derivation),
        MeaningfulChangeMeasure measure => MeaningfulChange.Derive(measure, derivation),
        ClinicalFlagMeasure measure => ClinicalFlag.Derive(measure, derivation),
        NormMeasure measure => NormReading.Derive(measure, derivation),
        ChangePerYearMeasure measure => ChangePerYear.Derive(measure, derivation),
        PairPatternMeasure measure => PairPattern.Derive(measure, derivation),
        ConvertedMeasure measure => ConvertedValue.Derive(measure, derivation),
        ScoreBoundMeasure measure => ScoreBound.Derive(measure, derivation),
        CutOffMeasure measure => CutOffReading.Derive(measure, derivation),
        SideReadingMeasure measure => SideReading.Derive(measure, derivation),
        GradeMeasure measure => OrdinalGrade.Derive(measure, derivation),
        CurveSummaryMeasure measure => CurveSummaryValue.Derive(measure, derivation),
        _ => throw new NotSupportedException($"Measure kind {definition.GetType().Name} has no derivation."),
    };
}

/// <summary>What a derivation may look at.</summary>
/// <param name="Protocol">The protocol.</param>
/// <param name="Records">Checked records.</param>
/// <param name="Index">Keys and levels.</param>
/// <param name="Gate">The hip-first gate.</param>
/// <param name="Done">Measures derived so far, by id.</param>
internal sealed record Derivation(
    StudyProtocol Protocol, CheckedRecords Records, StudyIndex Index, HipFirstGate Gate, Dictionary<string, MeasureColumn> Done)
{
    /// <summary>The rows of a measure's level.</summary>
    internal LevelIndex LevelOf(MeasureDefinition definition) => Index.Levels[Protocol.LevelOf(definition)];
}
