using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>Labels of a measure of kind first_of.</summary>
internal static class FirstOfWords
{
    internal const string None = "none of them";

    internal static ImmutableArray<string> Labels(FirstOfMeasure measure) => [None, .. measure.Outcomes.Select(o => o.Label)];
}

/// <summary>Labels of a measure of kind in_order.</summary>
internal static class InOrderWords
{
    internal static readonly ImmutableArray<string> Labels = ["in order", "out of order", "one left out"];
}

/// <summary>Labels of a measure of kind meaningful_change.</summary>
internal static class ChangeWords
{
    internal static readonly ImmutableArray<string> Labels = ["worse", "no clear change", "better"];
}
