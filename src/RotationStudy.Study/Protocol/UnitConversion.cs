using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Globalization;

namespace RotationStudy.Study.Protocol;

/// <summary>Converts a number from the unit of a site to the unit of the protocol, in decimal arithmetic.</summary>
/// <remarks>
/// Factors are exact by definition: an inch is 25.4 mm and an avoirdupois pound 0.45359237 kg (international yard and pound
/// agreement, 1959); a week has seven days, a year twelve months. A month has no fixed number of days and is not converted to days.
/// </remarks>
internal static class UnitConversion
{
    // Unit, the unit of its kind that it is measured in, and the factor as a fraction.
    private static readonly FrozenDictionary<string, (string Kind, decimal Times, decimal Over)> Known =
        new Dictionary<string, (string, decimal, decimal)>(StringComparer.Ordinal)
        {
            ["mm"] = ("length", 1m, 1m),
            ["cm"] = ("length", 10m, 1m),
            ["m"] = ("length", 1000m, 1m),
            ["inches"] = ("length", 25.4m, 1m),
            ["g"] = ("mass", 1m, 1m),
            ["kg"] = ("mass", 1000m, 1m),
            ["pounds"] = ("mass", 453.59237m, 1m),
            ["days"] = ("days", 1m, 1m),
            ["weeks"] = ("days", 7m, 1m),
            ["minutes"] = ("time", 1m, 1m),
            ["hours"] = ("time", 60m, 1m),
            ["months"] = ("age", 1m, 1m),
            ["years"] = ("age", 12m, 1m),
            ["degrees"] = ("angle", 1m, 1m),
            ["radians"] = ("angle", 180m, 3.1415926535897932384626433833m),
        }.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>Units that a site may name for values of a unit of the protocol.</summary>
    internal static ImmutableArray<string> Alternatives(string unit)
        => Known.TryGetValue(unit, out (string Kind, decimal, decimal) to)
            ? [.. Known.Where(k => k.Value.Kind == to.Kind).Select(k => k.Key).Order(StringComparer.Ordinal)]
            : [unit];

    /// <summary>The value in the other unit, at most ten decimals; null when the text is no plain number, which stays as it is.</summary>
    internal static string? Convert(string text, string from, string to)
    {
        const NumberStyles Plain = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;
        if (!decimal.TryParse(text, Plain, CultureInfo.InvariantCulture, out decimal value) || Math.Abs(value) > 1e12m)
            return null;
        (_, decimal times, decimal over) = Known[from];
        (_, decimal toTimes, decimal toOver) = Known[to];
        decimal converted = Math.Round(value * times * toOver / (over * toTimes), 10, MidpointRounding.ToEven);
        return converted.ToString("0.##########", CultureInfo.InvariantCulture);
    }
}
