using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>kind: outcome_score — a questionnaire's score with what its users must know: range, direction, error, importance, missing items.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Table">Table with one row per participant and visit (and side).</param>
/// <param name="Column">Column of the total, where sites send totals; null where they send items.</param>
/// <param name="Items">How items become the score; null where sites send totals.</param>
/// <param name="Visit">Keep rows of this visit only; null keeps all.</param>
/// <param name="Range">Lowest and highest score.</param>
/// <param name="Direction">Which end is good.</param>
/// <param name="DetectableChange">Smallest change of one person that is more than error; null where none is published.</param>
/// <param name="ImportantChange">Smallest change that matters to people; null where none is published.</param>
/// <remarks>Texts of items are copyrighted and never in a protocol: only their columns are.</remarks>
public sealed record OutcomeScoreMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string Table, string? Column, ItemRule? Items, string? Visit, ValueRange Range, ScoreDirection Direction, ChangeValue? DetectableChange, ChangeValue? ImportantChange)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>How items become a score: the mean of those answered, stretched to the range of the score.</summary>
/// <param name="Columns">Columns of the items.</param>
/// <param name="Range">Lowest and highest points of an item.</param>
/// <param name="AtLeastAnswered">Fewest items answered; with fewer the score is missing.</param>
/// <param name="Source">Where the rule comes from: the score's own, since rules differ between scores.</param>
public sealed record ItemRule(ImmutableArray<string> Columns, ValueRange Range, int AtLeastAnswered, string Source);

/// <summary>Which end of a score is good.</summary>
public enum ScoreDirection
{
    /// <summary>High is good.</summary>
    HighIsGood,

    /// <summary>Low is good.</summary>
    LowIsGood,
}

/// <summary>A change with where its size comes from.</summary>
/// <param name="Points">Points of the score, above 0.</param>
/// <param name="Source">Publication, or "common practice, no source".</param>
public sealed record ChangeValue(double Points, string Source);

/// <summary>kind: meaningful_change — the change of a score between two visits of one person, read against error and importance.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="From">The score at the earlier visit: a measure of kind outcome_score.</param>
/// <param name="To">The same score at the later visit.</param>
/// <remarks>A change is worse, better, or within the error of measurement, by the smallest detectable change; where none is declared, by the smallest important one.</remarks>
public sealed record MeaningfulChangeMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string From, string To)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>kind: clinical_flag — whether all conditions hold: a person is shown to the clinical team, never judged by the program.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Conditions">What must hold.</param>
/// <param name="Advice">What the clinical team is asked, a sentence.</param>
/// <remarks>1 when all hold, 0 when one does not; missing when none fails and one is not known, since the flag can then be neither raised nor lowered.</remarks>
public sealed record ClinicalFlagMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    ImmutableArray<FlagCondition> Conditions, string Advice)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>One condition of a flag.</summary>
/// <param name="Measure">The measure looked at.</param>
/// <param name="AtLeast">Holds when the value is this or more; null for a condition on a code.</param>
/// <param name="Code">Holds when the code is this; null for a condition on a number.</param>
public sealed record FlagCondition(string Measure, double? AtLeast, string? Code);
