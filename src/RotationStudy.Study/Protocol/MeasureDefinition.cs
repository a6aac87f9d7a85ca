using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>What is common to every derived measure. The kinds are the records below, one YAML key <c>kind</c> each.</summary>
/// <param name="Id">Name by which plan and figures refer to it.</param>
/// <param name="Label">Name in the report.</param>
/// <param name="Unit">Unit of the value; null for scores and codes.</param>
/// <param name="Definition">What it means, a sentence or two; null where the label says all.</param>
/// <param name="Source">Published source, or "common practice, no source".</param>
/// <param name="Place">Where it is declared.</param>
public abstract record MeasureDefinition(string Id, string Label, string? Unit, string? Definition, string? Source, Place Place)
{
    /// <summary>Position, sign, reliability, limits and norm.</summary>
    public MeasureBackground Background { get; init; } = MeasureBackground.None;
}

/// <summary>How several rows (raters, repeated readings) become one value.</summary>
public enum Reduction
{
    /// <summary>The mean of the values that are there.</summary>
    Mean,

    /// <summary>The value of the first row in key order.</summary>
    First,

    /// <summary>The value of the last row in key order.</summary>
    Last,
}

/// <summary>kind: value — a column as it stands; rows of one key but several raters are reduced.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Table">Table that holds the column.</param>
/// <param name="Column">The column.</param>
/// <param name="Visit">Keep rows of this visit only; null keeps all.</param>
/// <param name="Method">Keep rows whose code in <paramref name="MethodColumn"/> is this; null keeps all. Values of different methods are never pooled silently.</param>
/// <param name="MethodColumn">The code column that names the method; null where there is none.</param>
/// <param name="Reduction">How raters and repeated rows become one value.</param>
/// <param name="HipGate">Whether the hip-first gate applies: values of a gated visit are set aside.</param>
public sealed record ValueMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string Table, string Column, string? Visit, string? MethodColumn, string? Method, Reduction Reduction, bool HipGate)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>The arithmetic of two measures of the same rows.</summary>
public enum PairOperation
{
    /// <summary>a + b.</summary>
    Sum,

    /// <summary>a - b.</summary>
    Difference,

    /// <summary>(a - b) / 2: the middle of an arc that runs from -b to a.</summary>
    HalfDifference,

    /// <summary>a * b.</summary>
    Product,
}

/// <summary>kind: sum, difference, half_difference or product — arithmetic of two measures.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Operation">Which arithmetic.</param>
/// <param name="First">a.</param>
/// <param name="Second">b.</param>
public sealed record PairMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    PairOperation Operation, string First, string Second)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>kind: side_difference — this side minus the other side of the same participant (and visit).</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Of">The measure compared.</param>
public sealed record SideDifferenceMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place, string Of)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>kind: criteria_score — the number of components that meet their criterion.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Table">Table that holds the components.</param>
/// <param name="Visit">Keep rows of this visit only; null keeps all.</param>
/// <param name="Components">The components; the score runs from 0 to their number.</param>
/// <remarks>A missing component makes the score missing: no pro-rating. The lowest and highest possible score are kept beside it.</remarks>
public sealed record CriteriaScoreMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string Table, string? Visit, ImmutableArray<ScoreComponent> Components)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>One component of a score and when it counts.</summary>
/// <param name="Column">Column of the component.</param>
/// <param name="Test">at_least, more_than or is.</param>
/// <param name="Threshold">Number for at_least and more_than; NaN for is.</param>
/// <param name="Code">Code for is; null otherwise.</param>
public sealed record ScoreComponent(string Column, ComponentTest Test, double Threshold, string? Code);

/// <summary>When a component counts.</summary>
public enum ComponentTest
{
    /// <summary>Value at or above the threshold.</summary>
    AtLeast,

    /// <summary>Value above the threshold.</summary>
    MoreThan,

    /// <summary>Code equal to the one named.</summary>
    Is,
}

/// <summary>kind: follow_up — days from the start to the first of: last contact, an ending event of the unit.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="LastContactTable">Table of the last day of contact (the roster).</param>
/// <param name="LastContactColumn">Column of the last day of contact, days since enrolment.</param>
/// <param name="Events">Events whose first occurrence ends the follow-up of the unit; null for none.</param>
public sealed record FollowUpMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string LastContactTable, string LastContactColumn, EventSelection? Events)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place)
{
    /// <summary>Measure of kind entry: days before it are not at risk, and events before it do not count; null where all are followed from enrolment.</summary>
    public string? Entry { get; init; }
}

/// <summary>Which rows of an event table count as the event.</summary>
/// <param name="Table">Table of events: participant, side, day.</param>
/// <param name="Column">Code column of the kind of event.</param>
/// <param name="Codes">Codes that count.</param>
/// <param name="MergeWithinDays">Reports of the same unit this many days or fewer after the last counted one are the same event; 0 merges reports of one day only.</param>
public sealed record EventSelection(string Table, string Column, ImmutableArray<string> Codes, int MergeWithinDays)
{
    /// <summary>A second column that must have one of some codes, such as the kind of operation; null for none.</summary>
    public CodeCondition? Where { get; init; }

    /// <summary>Whose events count.</summary>
    public EventSide Side { get; init; } = EventSide.This;

    /// <summary>Events count from this number of the unit's own on, after merging: 1 counts all, 2 those after the first.</summary>
    public int FromNumber { get; init; } = 1;
}

/// <summary>A code column and the codes that count.</summary>
/// <param name="Column">Code column of the same table.</param>
/// <param name="Codes">Codes that count.</param>
public sealed record CodeCondition(string Column, ImmutableArray<string> Codes);

/// <summary>Whose events count for a unit.</summary>
public enum EventSide
{
    /// <summary>Events of the unit itself.</summary>
    This,

    /// <summary>Events of the other side of the same participant.</summary>
    Other,

    /// <summary>Events of either side.</summary>
    Either,
}

/// <summary>kind: event_count — number of events of a unit within its follow-up.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Events">Which events.</param>
/// <param name="FollowUp">The follow-up measure that bounds them.</param>
public sealed record EventCountMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    EventSelection Events, string FollowUp)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>kind: any_event — 1 when at least one event happened within the follow-up, else 0.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Events">Which events.</param>
/// <param name="FollowUp">The follow-up measure that bounds them.</param>
public sealed record AnyEventMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    EventSelection Events, string FollowUp)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>kind: first_event_day — day of the first event, or the end of follow-up when there was none.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Events">Which events.</param>
/// <param name="FollowUp">The follow-up measure that bounds them.</param>
public sealed record FirstEventDayMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    EventSelection Events, string FollowUp)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>kind: groups — a number cut into named groups at cut points named beforehand; intervals are closed below.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Of">The measure cut.</param>
/// <param name="CutPoints">Increasing cut points, k of them; a value equal to a cut point belongs to the group above.</param>
/// <param name="Labels">k + 1 labels, lowest group first.</param>
public sealed record GroupsMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string Of, ImmutableArray<double> CutPoints, ImmutableArray<string> Labels)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);
