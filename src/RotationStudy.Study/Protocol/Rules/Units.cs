using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>The units a protocol may use, one spelling each, so that two columns in degrees compare as equal.</summary>
internal static class Units
{
    internal static readonly ImmutableArray<string> All =
    [
        "degrees", "mm", "cm", "m", "kg", "days", "weeks", "months", "years", "hours", "minutes", "points", "quadrants", "percent", "steps",
        "degrees per year", "mm per year", "points per year", "mm per degree", "degrees per degree",
    ];
}
