using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>kind: entry — the day from which the events of a unit are collected; a unit without a row enters at enrolment, day 0.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Table">Table with one row per unit or participant.</param>
/// <param name="Column">Column of days since enrolment.</param>
public sealed record EntryMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string Table, string Column)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>kind: first_of — which of several events came first within the follow-up, or none: the outcome of competing events.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Outcomes">The events, each with its label; of two on one day the one listed first counts.</param>
/// <param name="FollowUp">The follow-up measure that bounds them; it ends at none of them, else they could not compete.</param>
public sealed record FirstOfMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    ImmutableArray<NamedEvents> Outcomes, string FollowUp)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>An event by its label.</summary>
/// <param name="Label">Label in tables and figures.</param>
/// <param name="Events">Which rows are the event.</param>
public sealed record NamedEvents(string Label, EventSelection Events);

/// <summary>kind: first_of_day — the day of what came first, or the end of follow-up when nothing did.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Of">A measure of kind first_of.</param>
public sealed record FirstOfDayMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string Of)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>What is told of the way from an event to a milestone.</summary>
public enum AfterValue
{
    /// <summary>kind: time_after — time from the event to the milestone; missing where it was not reached.</summary>
    TimeAfter,

    /// <summary>kind: reached_after — 1 when the milestone was reached within the follow-up, else 0.</summary>
    ReachedAfter,

    /// <summary>kind: watched_after — time from the event to the milestone, or to the end of follow-up where it was not reached; half a day for one reached on the day itself.</summary>
    WatchedAfter,
}

/// <summary>kind: time_after, reached_after or watched_after — from the first event of a unit to a milestone, image or other dated row.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Value">What is told.</param>
/// <param name="Origin">The event from which time counts: its first within the follow-up.</param>
/// <param name="Until">The rows that are waited for: the first on or after the day of the event counts.</param>
/// <param name="FollowUp">The follow-up measure that bounds both; it does not end at the event.</param>
/// <remarks>A unit without the event is missing, with that reason; so is one whose milestone is dated before the event. The unit may be days or weeks.</remarks>
public sealed record AfterMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    AfterValue Value, EventSelection Origin, DatedRows Until, string FollowUp)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>Dated rows of a table, all or those of some codes.</summary>
/// <param name="Table">Table with a column of days.</param>
/// <param name="Column">Code column; null keeps all rows.</param>
/// <param name="Codes">Codes that count; empty when there is no column.</param>
public sealed record DatedRows(string Table, string? Column, ImmutableArray<string> Codes);

/// <summary>kind: in_order — whether times that follow each other do: in order, out of order, or one left out.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Of">Measures of times from one origin, in the order in which they should be reached.</param>
public sealed record InOrderMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    ImmutableArray<string> Of)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);
