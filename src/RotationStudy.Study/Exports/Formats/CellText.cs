using System.Globalization;
using System.Text;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>One way to write a typed cell as text: numbers shortest and with a point, days as year-month-day.</summary>
internal static class CellText
{
    internal static byte[] Utf8(object? value) => value is null or DBNull ? [] : Encoding.UTF8.GetBytes(Text(value));

    private static string Text(object value) => value switch
    {
        string text => text,
        double number => Number(number),
        float number => Number(number),
        bool yes => yes ? "true" : "false",
        DateTime day when day.TimeOfDay == TimeSpan.Zero => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        DateTime moment => moment.ToString("yyyy-MM-ddTHH:mm:ss", CultureInfo.InvariantCulture),
        DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => value.ToString() ?? string.Empty,
    };

    // A whole number stays free of an exponent, so that an identifier kept as a number reads as it was typed.
    private static string Number(double number)
        => number == Math.Truncate(number) && Math.Abs(number) < 1e15
            ? number.ToString("0", CultureInfo.InvariantCulture)
            : number.ToString("R", CultureInfo.InvariantCulture);
}
