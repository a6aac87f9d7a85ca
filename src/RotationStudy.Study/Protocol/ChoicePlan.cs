using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>The defensible choices behind one estimate: every combination of the options is carried out and drawn.</summary>
/// <param name="Question">Question whose estimate is followed.</param>
/// <param name="Exposure">Exposure of that question whose estimate is followed.</param>
/// <param name="Dimensions">What could have been chosen otherwise.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record ChoicePlan(string Question, string Exposure, ImmutableArray<ChoiceDimension> Dimensions, Place Place);

/// <summary>One decision and its options. The first option is the planned one and changes nothing.</summary>
/// <param name="Name">Name of the decision, such as "Laxity score".</param>
/// <param name="Options">The options, at least two.</param>
public sealed record ChoiceDimension(string Name, ImmutableArray<ChoiceOption> Options);

/// <summary>One option of a decision, with what it changes in the question or in its measures.</summary>
/// <param name="Label">What the chart calls it.</param>
/// <param name="Reason">Why a careful colleague could have chosen it, a sentence.</param>
/// <param name="Replace">Measures that stand in for others wherever the question names them.</param>
/// <param name="LeaveOut">Adjustment terms left out, by the measure that the question names.</param>
/// <param name="Add">Adjustment terms added.</param>
/// <param name="Keep">Rows kept in place of the question's own; null leaves them.</param>
/// <param name="MergeWithinDays">Reports this close are one event; null leaves the measures as they are.</param>
/// <param name="HipGate">How much a hip that is not clear closes; null leaves the plan's gate.</param>
/// <param name="Model">The kind of model, when another is chosen; null leaves it.</param>
public sealed record ChoiceOption(
    string Label,
    string Reason,
    ImmutableArray<MeasureSwap> Replace,
    ImmutableArray<string> LeaveOut,
    ImmutableArray<AdjustmentTerm> Add,
    RowFilter? Keep,
    int? MergeWithinDays,
    HipGateLevel? HipGate,
    ModelChoice? Model)
{
    /// <summary>Whether the option changes anything.</summary>
    public bool ChangesNothing
        => Replace.IsEmpty && LeaveOut.IsEmpty && Add.IsEmpty && Keep is null && MergeWithinDays is null && HipGate is null && Model is null;
}

/// <summary>A measure that stands in for another.</summary>
/// <param name="Measure">The measure that the question names.</param>
/// <param name="By">The measure used in its place.</param>
public sealed record MeasureSwap(string Measure, string By);

/// <summary>Another model for the question.</summary>
/// <param name="Kind">Kind of question that it is carried out as.</param>
/// <param name="Counts">Distribution of counts, for a rate.</param>
/// <param name="Outcome">Outcome (mean, odds, rate); null where the kind has none.</param>
/// <param name="FollowUp">Time at risk (rate).</param>
/// <param name="Entry">Entry time (time_to_first, all_events).</param>
/// <param name="Exit">Exit time (time_to_first, all_events).</param>
/// <param name="Event">Whether the exit is an event (time_to_first, all_events).</param>
public sealed record ModelChoice(
    QuestionKind Kind, CountDistribution Counts, string? Outcome, string? FollowUp, string? Entry, string? Exit, string? Event);

/// <summary>Distribution of counts around their mean.</summary>
public enum CountDistribution
{
    /// <summary>Counts vary more than Poisson allows.</summary>
    NegativeBinomial,

    /// <summary>Counts vary as Poisson says; the robust variance answers for the rest.</summary>
    Poisson,
}
