using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>How the days of a week become one value.</summary>
public enum WeeklyReduction
{
    /// <summary>The mean of the days that count.</summary>
    Mean,

    /// <summary>Seven times the mean of the days that count: a week's sum that a missing day does not lower.</summary>
    WeeklySum,
}

/// <summary>kind: weekly — the days of a diary brought to weeks since enrolment: week 1 is day 1 to 7.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Table">Table with one row per participant and day.</param>
/// <param name="Column">Column of numbers.</param>
/// <param name="Reduction">How days become a week.</param>
/// <param name="Wear">Which days count as worn; null counts every day with a value.</param>
/// <param name="MinimumDays">Fewest days that count, 1 to 7; a week with fewer is missing.</param>
public sealed record WeeklyMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string Table, string Column, WeeklyReduction Reduction, WearRule? Wear, int MinimumDays)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>A day counts when the device was worn long enough.</summary>
/// <param name="Column">Column of hours worn.</param>
/// <param name="AtLeastHours">Fewest hours; a day with fewer, or without hours, does not count.</param>
/// <param name="Source">Where the rule comes from.</param>
public sealed record WearRule(string Column, double AtLeastHours, string Source);

/// <summary>kind: weekly_changes — how many different changes a plan made within a week: one at a time is 0 or 1.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Table">Table with one row per participant and day.</param>
/// <param name="Column">Code column of the change.</param>
/// <param name="Codes">Codes that are a change.</param>
public sealed record WeeklyChangesMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string Table, string Column, ImmutableArray<string> Codes)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>What is told of a participant's own weeks.</summary>
public enum OwnWeeksValue
{
    /// <summary>kind: week_before — the value of the week before.</summary>
    WeekBefore,

    /// <summary>kind: person_mean — the mean of the participant's weeks that have a value.</summary>
    PersonMean,

    /// <summary>kind: within_person — the value minus the participant's mean.</summary>
    WithinPerson,
}

/// <summary>kind: week_before, person_mean or within_person — a weekly measure against the participant's own other weeks.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Value">What is told.</param>
/// <param name="Of">A measure of weeks.</param>
public sealed record OwnWeeksMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    OwnWeeksValue Value, string Of)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);
