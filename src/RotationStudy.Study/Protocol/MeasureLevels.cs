namespace RotationStudy.Study.Protocol;

/// <summary>What one row of a table or a measure stands for.</summary>
public static class MeasureLevels
{
    /// <summary>The level of a table's rows once raters and repeated readings are reduced.</summary>
    /// <param name="table">The table.</param>
    /// <param name="oneVisit">Whether rows of one visit only are kept, which takes the visit out of the level.</param>
    public static RowLevel LevelOf(this TableDefinition table, bool oneVisit)
    {
        bool side = table.Key.Any(k => table.Column(k)?.Role == ColumnRole.Side);
        bool visit = !oneVisit && table.Key.Any(k => table.Column(k)?.Role == ColumnRole.Visit);
        bool sequence = table.Key.Any(k => table.Column(k)?.Role == ColumnRole.Sequence);
        return (side, visit) switch
        {
            (true, true) => RowLevel.UnitVisit,
            (true, false) => RowLevel.Unit,
            (false, true) => RowLevel.Visit,
            _ => sequence && !oneVisit ? RowLevel.Sequence : RowLevel.Participant,
        };
    }

    /// <summary>The level of a measure. Arithmetic of measures has the finer of the two levels.</summary>
    /// <exception cref="KeyNotFoundException">The measure refers to a table or measure that the protocol does not declare.</exception>
    public static RowLevel LevelOf(this StudyProtocol protocol, MeasureDefinition measure) => measure switch
    {
        ValueMeasure m => protocol.Table(m.Table).LevelOf(m.Visit is not null),
        CriteriaScoreMeasure m => protocol.Table(m.Table).LevelOf(m.Visit is not null),
        PairMeasure m => Finer(protocol.LevelOf(protocol.Measure(m.First)), protocol.LevelOf(protocol.Measure(m.Second))),
        SideDifferenceMeasure m => protocol.LevelOf(protocol.Measure(m.Of)),
        SideMeanMeasure m => protocol.LevelOf(protocol.Measure(m.Of)) == RowLevel.UnitVisit ? RowLevel.Visit : RowLevel.Participant,
        GroupsMeasure m => protocol.LevelOf(protocol.Measure(m.Of)),
        FollowUpMeasure m => HasSides(protocol, m) ? RowLevel.Unit : RowLevel.Participant,
        EventCountMeasure m => protocol.LevelOf(protocol.Measure(m.FollowUp)),
        AnyEventMeasure m => protocol.LevelOf(protocol.Measure(m.FollowUp)),
        FirstEventDayMeasure m => protocol.LevelOf(protocol.Measure(m.FollowUp)),
        EntryMeasure m => protocol.Table(m.Table).LevelOf(oneVisit: false),
        FirstOfMeasure m => protocol.LevelOf(protocol.Measure(m.FollowUp)),
        FirstOfDayMeasure m => protocol.LevelOf(protocol.Measure(m.Of)),
        AfterMeasure m => protocol.LevelOf(protocol.Measure(m.FollowUp)),
        InOrderMeasure m => protocol.LevelOf(protocol.Measure(m.Of[0])),
        WeeklyMeasure or WeeklyChangesMeasure => RowLevel.Week,
        OwnWeeksMeasure m => m.Value == OwnWeeksValue.PersonMean ? RowLevel.Participant : RowLevel.Week,
        OutcomeScoreMeasure m => protocol.Table(m.Table).LevelOf(m.Visit is not null),
        MeaningfulChangeMeasure m => protocol.LevelOf(protocol.Measure(m.To)),
        ClinicalFlagMeasure m => m.Conditions.Select(c => protocol.LevelOf(protocol.Measure(c.Measure))).Aggregate(Finer),
        NormMeasure m => protocol.LevelOf(protocol.Measure(m.Of)),
        ChangePerYearMeasure m => protocol.Table(m.Table).LevelOf(oneVisit: true),
        PairPatternMeasure m => Finer(protocol.LevelOf(protocol.Measure(m.First)), protocol.LevelOf(protocol.Measure(m.Second))),
        ConvertedMeasure m => protocol.LevelOf(protocol.Measure(m.Of)),
        ScoreBoundMeasure m => protocol.LevelOf(protocol.Measure(m.Of)),
        CutOffMeasure m => protocol.LevelOf(protocol.Measure(m.Of)),
        SideReadingMeasure m => protocol.LevelOf(protocol.Measure(m.Positive.Column)),
        GradeMeasure m => protocol.LevelOf(m.Value),
        CurveSummaryMeasure m => protocol.Table(m.Curves.Table).LevelOf(oneVisit: true),
        _ => throw new KeyNotFoundException($"Measure '{measure.Id}' is of a kind without a level."),
    };

    /// <summary>Whether rows of the level are sides of a participant.</summary>
    public static bool HasSides(this RowLevel level) => level is RowLevel.Unit or RowLevel.UnitVisit;

    /// <summary>Whether rows of the level are visits, weeks or running numbers.</summary>
    public static bool HasOccasions(this RowLevel level) => level is RowLevel.Visit or RowLevel.UnitVisit or RowLevel.Sequence or RowLevel.Week;

    /// <summary>Whether a measure of this level has one value for every row of another level.</summary>
    public static bool CoversRowsOf(this RowLevel level, RowLevel rows)
        => level == rows
            || level == RowLevel.Participant
            || (level is RowLevel.Unit or RowLevel.Visit && rows == RowLevel.UnitVisit);

    private static bool HasSides(StudyProtocol protocol, FollowUpMeasure measure)
        => (measure.Events is { } events && protocol.Table(events.Table).LevelOf(oneVisit: false).HasSides())
            || (measure.Entry is { } entry && protocol.LevelOf(protocol.Measure(entry)).HasSides());

    private static RowLevel Finer(RowLevel first, RowLevel second)
    {
        if (first.CoversRowsOf(second))
            return second;
        return second.CoversRowsOf(first) ? first : RowLevel.UnitVisit;
    }
}
