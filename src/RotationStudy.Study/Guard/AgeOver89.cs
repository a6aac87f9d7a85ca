namespace RotationStudy.Study.Guard;

/// <summary>Ages over 89 years. Above 120 a number is no age but a slip, which the range checks tell.</summary>
internal static class AgeOver89
{
    private const double Oldest = 120;

    internal static bool Holds(double value) => value is >= 90 and <= Oldest;

    /// <summary>Whether a column holds ages by its name.</summary>
    internal static bool IsColumn(string header) => IdentifyingHeader.WordsOf(header).Any(w => w is "age" or "ages" or "alter");
}
