namespace RotationStudy.Statistics.Tests;

/// <summary>Comparison by relative error, with the found digits in the message.</summary>
internal static class Close
{
    /// <summary>Fails when |found - expected| exceeds tolerance times |expected| (absolute where expected is zero).</summary>
    internal static void Relative(double expected, double found, double tolerance, string what = "")
    {
        double scale = expected == 0 ? 1 : Math.Abs(expected);
        Assert.True(
            Math.Abs(found - expected) <= tolerance * scale,
            FormattableString.Invariant($"{what} expected {expected:R}, found {found:R}, relative error {Math.Abs(found - expected) / scale:E2} over {tolerance:E1}"));
    }

    /// <summary>Fails when the value, rounded to the printed digits, is not what was printed.</summary>
    internal static void Printed(double printed, double found, int decimals, string what = "")
        => Assert.True(
            Math.Abs(found - printed) <= 0.5000001 * Math.Pow(10, -decimals),
            FormattableString.Invariant($"{what} printed {printed}, found {found:R}"));
}
