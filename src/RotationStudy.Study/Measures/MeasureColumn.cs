using System.Collections.Immutable;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>The values of one measure, aligned with the rows of its level.</summary>
/// <param name="Definition">The measure as the protocol declares it.</param>
/// <param name="Index">The rows.</param>
/// <param name="Values">A number per row, or the position in <paramref name="Codes"/>; 0 where missing.</param>
/// <param name="Missing">Per row: 0 for a value, else 1 + index into <paramref name="Reasons"/>.</param>
/// <param name="Reasons">Why values are missing.</param>
/// <param name="Codes">Codes with their meaning for a coded measure; empty for a number.</param>
/// <param name="Note">A sentence on how the values were reached that the definition does not say; null for none.</param>
public sealed record MeasureColumn(
    MeasureDefinition Definition,
    LevelIndex Index,
    ImmutableArray<double> Values,
    ImmutableArray<byte> Missing,
    ImmutableArray<string> Reasons,
    ImmutableArray<CodeDefinition> Codes,
    string? Note)
{
    /// <summary>Whether the measure is coded rather than a number.</summary>
    public bool IsCoded => Codes.Length > 0;

    /// <summary>Whether a row has a value.</summary>
    public bool HasValue(int row) => Missing[row] == 0;

    /// <summary>Why a row has none, or null.</summary>
    public string? Reason(int row) => Missing[row] == 0 ? null : Reasons[Missing[row] - 1];
}

/// <summary>All measures of a study.</summary>
/// <param name="Keys">Lists of keys.</param>
/// <param name="Columns">Measures, in declared order.</param>
/// <param name="HipFirst">Sides whose hip comes first, in key order.</param>
/// <param name="Levels">The rows of each level that the study has.</param>
public sealed record DerivedMeasures(
    StudyKeys Keys,
    ImmutableArray<MeasureColumn> Columns,
    ImmutableArray<HipFirstVisit> HipFirst,
    ImmutableDictionary<RowLevel, LevelIndex> Levels)
{
    /// <summary>For each measure of kind time_after, in declared order: whether and until when it was waited for.</summary>
    public ImmutableArray<WaitedFor> Waits { get; init; } = [];

    /// <summary>For each count of events, by its id: when they happened; one history per row of the measure, null where the count is missing.</summary>
    public ImmutableDictionary<string, ImmutableArray<EventHistory?>> Histories { get; init; } = ImmutableDictionary<string, ImmutableArray<EventHistory?>>.Empty;

    /// <summary>Readings as they were taken, by the id of the question that asks for them.</summary>
    public ImmutableDictionary<string, ReadingSet> Readings { get; init; } = ImmutableDictionary<string, ReadingSet>.Empty;

    /// <summary>Curves as they were recorded, by the id of the question that asks for them.</summary>
    public ImmutableDictionary<string, CurveReadings> Curves { get; init; } = ImmutableDictionary<string, CurveReadings>.Empty;

    /// <summary>The measure of that id.</summary>
    /// <exception cref="KeyNotFoundException">The protocol declares no such measure.</exception>
    public MeasureColumn this[string id]
        => Columns.FirstOrDefault(c => c.Definition.Id == id) ?? throw new KeyNotFoundException($"No measure is called '{id}'.");
}

/// <summary>The events of a row within its follow-up.</summary>
/// <param name="Entry">Day on which the follow-up begins.</param>
/// <param name="End">Day on which it ends.</param>
/// <param name="Days">Days of the events, increasing, after entry and up to the end.</param>
public sealed record EventHistory(double Entry, double End, ImmutableArray<double> Days);

/// <summary>A side at a visit whose hip is painful, restricted or was not examined.</summary>
/// <param name="Key">Participant, side and visit.</param>
/// <param name="What">What was found, in the words of the code list.</param>
public sealed record HipFirstVisit(RowKey Key, string What);

/// <summary>A time after an event with what a curve of it needs: rows whose time is not known were watched, and until when.</summary>
/// <param name="Time">Time to the milestone, missing where not reached.</param>
/// <param name="Watched">Time to the milestone or to the end of follow-up.</param>
/// <param name="Reached">1 when reached, else 0.</param>
public sealed record WaitedFor(MeasureColumn Time, MeasureColumn Watched, MeasureColumn Reached);
