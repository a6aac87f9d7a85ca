using System.Globalization;
using RotationStudy.Study.Results;

namespace RotationStudy.Report;

/// <summary>The one place where numbers of a report become text, so that page, figure and alternative text agree.</summary>
/// <remarks>
/// Rules. Ratios: two decimals below 10, one below 100, none above, two significant digits below 0.1. Differences: as many
/// decimals as show two significant digits of the width of the interval, at most four. p: three decimals below 0.1, two
/// above, and "&lt;0.001". Intervals join their ends by "to", since a dash beside a minus sign misleads. The minus sign is
/// U+2212; thousands are set off by a comma. An end that runs off is written as infinity.
/// </remarks>
public static class NumberFormat
{
    private const string Infinity = "\u221e";

    /// <summary>A count, such as 12,345.</summary>
    public static string Count(long n) => Minus(n.ToString("N0", CultureInfo.InvariantCulture));

    /// <summary>A count followed by the right noun.</summary>
    public static string Count(long n, string one, string many) => $"{Count(n)} {(n == 1 ? one : many)}";

    /// <summary>A number with fixed decimals.</summary>
    public static string Fixed(double value, int decimals)
    {
        if (double.IsInfinity(value))
            return value > 0 ? Infinity : "\u2212" + Infinity;
        string text = value.ToString("N" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        bool zero = text.All(c => c is '-' or '0' or '.' or ',');
        return Minus(zero ? text.TrimStart('-') : text);
    }

    /// <summary>A number with up to four significant digits and no trailing zeros, for axes and data tables.</summary>
    public static string Brief(double value) => double.IsInfinity(value)
        ? Fixed(value, 0)
        : Minus((value == 0 ? 0 : value).ToString(Math.Abs(value) is >= 1e4 and < 1e9 ? "#,0.#" : "G4", CultureInfo.InvariantCulture));

    /// <summary>A share from 0 to 1 as a percentage.</summary>
    public static string Percent(double share, int decimals = 0) => Fixed(100 * share, decimals) + "%";

    /// <summary>A p value without "p": &lt;0.001, 0.023, 0.41.</summary>
    public static string PValue(double p)
    {
        if (p < 0.001)
            return "<0.001";
        string text = Fixed(p, p < 0.1 ? 3 : 2);
        return text == "1.00" && p < 1 ? ">0.99" : text;
    }

    /// <summary>A p value as a clause: p &lt;0.001, p = 0.023. Its blanks do not break.</summary>
    public static string PClause(double p)
    {
        string value = PValue(p);
        return value[0] is '<' or '>' ? $"p\u00a0{value}" : $"p\u00a0=\u00a0{value}";
    }

    /// <summary>The estimate of a row, with its unit where it has one.</summary>
    public static string Estimate(EstimateRow row) => WithUnit(One(row, row.Value), row.Unit);

    /// <summary>The interval of a row: 0.52 to 1.31.</summary>
    public static string Interval(EstimateRow row) => $"{One(row, row.Lower)} to {One(row, row.Upper)}";

    /// <summary>Estimate and interval: 1.42 (1.10 to 1.83).</summary>
    public static string EstimateAndInterval(EstimateRow row) => $"{One(row, row.Value)} ({Interval(row)})";

    /// <summary>A number of bytes: 812 bytes, 14 kB, 2.3 MB.</summary>
    public static string Bytes(long bytes) => bytes switch
    {
        < 1_000 => Count(bytes, "byte", "bytes"),
        < 1_000_000 => Fixed(bytes / 1e3, 0) + " kB",
        _ => Fixed(bytes / 1e6, 1) + " MB",
    };

    private static string One(EstimateRow row, double value) => IsRatio(row) ? Ratio(value) : Fixed(value, Decimals(row));

    /// <summary>Whether the row is on a ratio scale.</summary>
    internal static bool IsRatio(EstimateRow row) => row.NoEffect == 1;

    /// <summary>A ratio by the rule of this class.</summary>
    internal static string Ratio(double value) => Math.Abs(value) switch
    {
        0 => "0",
        < 0.0995 and >= 1e-4 => Fixed(value, 1 - (int)Math.Floor(Math.Log10(Math.Abs(value)))),
        < 1e-4 => "<0.0001",
        < 9.995 => Fixed(value, 2),
        < 99.95 => Fixed(value, 1),
        >= 1e6 and < double.PositiveInfinity => ">1,000,000",
        _ => Fixed(value, 0),
    };

    private static int Decimals(EstimateRow row)
    {
        double width = row.Upper - row.Lower;
        double scale = double.IsFinite(width) && width > 0 ? width : Math.Abs(row.Value);
        return scale > 0 ? Math.Clamp(1 - (int)Math.Floor(Math.Log10(scale)), 0, 4) : 1;
    }

    private static string WithUnit(string number, string? unit) => string.IsNullOrEmpty(unit) ? number : $"{number} {unit}";

    private static string Minus(string text) => text.Replace('-', '\u2212');
}
