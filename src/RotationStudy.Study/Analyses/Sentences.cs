using System.Globalization;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Numbers and lists in words, one rule for all answers: three significant digits, p to three decimals.</summary>
internal static class Sentences
{
    internal static string List(IEnumerable<string> items)
    {
        string[] all = [.. items];
        return all.Length <= 1 ? string.Concat(all) : $"{string.Join(", ", all[..^1])} and {all[^1]}";
    }

    internal static string LowerFirst(string text)
        => text.Length > 1 && char.IsLower(text[1]) ? char.ToLowerInvariant(text[0]) + text[1..] : text;

    /// <summary>Three significant digits without an exponent; infinite bounds in words.</summary>
    internal static string Number(double value)
    {
        if (double.IsPositiveInfinity(value))
            return "infinity";
        if (double.IsNegativeInfinity(value))
            return "minus infinity";
        if (value == 0)
            return "0";
        int magnitude = (int)Math.Floor(Math.Log10(Math.Abs(value)));
        int decimals = Math.Clamp(2 - magnitude, 0, 6);
        string text = Math.Round(value, decimals, MidpointRounding.AwayFromZero).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return text.Replace('-', '\u2212');
    }

    internal static string PValue(double p)
        => p < 0.001 ? "p < 0.001" : string.Create(CultureInfo.InvariantCulture, $"p = {p:0.000}");

    /// <summary>An estimate with its interval and p value.</summary>
    internal static string Estimate(EstimateRow row)
        => $"{row.Scale} {Number(row.Value)}{(row.Unit is null ? string.Empty : " " + row.Unit)} (95% CI {Number(row.Lower)} to {Number(row.Upper)}, {PValue(row.PValue)})";

    /// <summary>The exposures' estimates as one answer.</summary>
    internal static string Answer(IEnumerable<EstimateRow> rows, AnalysisInput input)
    {
        EstimateRow[] exposures = [.. rows.Where(r => r.Role is "exposure" or "interaction")];
        string estimates = string.Join("; ", exposures.Select(r => $"{r.Label}: {Estimate(r)}"));
        bool any = exposures.Any(r => r.Lower > r.NoEffect || r.Upper < r.NoEffect);
        string reading = exposures.Length == 0 ? string.Empty
            : any ? string.Empty
            : exposures.Length == 1 ? " The interval includes no association." : " All intervals include no association.";
        return $"{estimates}; {input.AdjustmentInWords()}, from {input.RowsInWords()}.{reading}";
    }
}
