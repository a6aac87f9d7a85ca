using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>One estimate under every combination of the plan's choices.</summary>
/// <param name="Question">Question id.</param>
/// <param name="Label">What the estimate is of, with its step.</param>
/// <param name="Scale">What the numbers are, such as "rate ratio"; several kinds where models differ.</param>
/// <param name="Unit">Unit of a difference; null for ratios.</param>
/// <param name="NoEffect">Value of no association: 0 or 1.</param>
/// <param name="Decisions">The decisions and their options, the planned option first.</param>
/// <param name="Fits">Every combination, in the order of the options (the last decision runs fastest); the first is the planned analysis.</param>
/// <param name="DifferentFits">Number of combinations whose rows or model differ: an option may have nothing to change.</param>
/// <param name="Holds">In how many combinations the conclusion of the planned analysis holds.</param>
/// <param name="Sentence">How often the conclusion holds, in words.</param>
/// <param name="Influence">Per decision, how far its options move the estimate, in words.</param>
public sealed record ChoiceGarden(
    string Question,
    string Label,
    string Scale,
    string? Unit,
    double NoEffect,
    ImmutableArray<ChoiceDecision> Decisions,
    ImmutableArray<ChoiceFit> Fits,
    int DifferentFits,
    int Holds,
    string Sentence,
    ImmutableArray<string> Influence);

/// <summary>A decision.</summary>
/// <param name="Name">Name.</param>
/// <param name="Options">Options, the planned one first.</param>
public sealed record ChoiceDecision(string Name, ImmutableArray<ChoiceOptionFacts> Options);

/// <summary>An option.</summary>
/// <param name="Label">Label.</param>
/// <param name="Reason">Why it could have been chosen.</param>
public sealed record ChoiceOptionFacts(string Label, string Reason);

/// <summary>One combination.</summary>
/// <param name="Options">Position of the option taken, one per decision.</param>
/// <param name="Estimate">The estimate; null where the fit failed.</param>
/// <param name="Participants">Participants in the fit.</param>
/// <param name="Rows">Rows in the fit.</param>
/// <param name="Events">Events; 0 where there are none by design.</param>
/// <param name="NotFitted">Why there is no estimate; null where there is one.</param>
public sealed record ChoiceFit(ImmutableArray<int> Options, ChoiceEstimate? Estimate, int Participants, int Rows, int Events, string? NotFitted);

/// <summary>The estimate of a combination.</summary>
/// <param name="Scale">What it is, such as "rate ratio".</param>
/// <param name="Value">Estimate.</param>
/// <param name="Lower">Lower end of the 95% interval.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="PValue">Two-sided p value of no association.</param>
public sealed record ChoiceEstimate(string Scale, double Value, double Lower, double Upper, double PValue);
