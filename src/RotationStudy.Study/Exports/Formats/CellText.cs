using System.Globalization;
using System.Text;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>One way to write a typed cell as text: numbers shortest and with a point, days as year-month-day.</summary>
internal static class CellText
{
    internal static byte[] Utf8(object? value) => value is null or DBNull ? [] : Encoding.UTF8.GetBytes(Text(value));

    /// <summary>Writes a value without making an object of it.</summary>
    /// <returns>The part of the space that was written.</returns>
    internal static ReadOnlySpan<byte> Write<T>(T value, Span<byte> space)
        where T : struct
    {
        int length = 0;
        bool fits = value switch
        {
            double number => number.TryFormat(space, out length, FormOf(number), CultureInfo.InvariantCulture),
            float number => number.TryFormat(space, out length, FormOf(number), CultureInfo.InvariantCulture),
            int number => number.TryFormat(space, out length, default, CultureInfo.InvariantCulture),
            long number => number.TryFormat(space, out length, default, CultureInfo.InvariantCulture),
            _ => false,
        };
        return fits ? space[..length] : Utf8(value);
    }

    private static string Text(object value) => value switch
    {
        string text => text,
        double number => number.ToString(FormOf(number), CultureInfo.InvariantCulture),
        float number => number.ToString(FormOf(number), CultureInfo.InvariantCulture),
        bool yes => yes ? "true" : "false",
        DateTime day when day.TimeOfDay == TimeSpan.Zero => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        DateTime moment => moment.ToString("yyyy-MM-ddTHH:mm:ss", CultureInfo.InvariantCulture),
        DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => value.ToString() ?? string.Empty,
    };

    // A whole number stays free of an exponent, so that an identifier kept as a number reads as it was typed.
    private static string FormOf(double number) => number == Math.Truncate(number) && Math.Abs(number) < 1e15 ? "0" : "R";

    private static string FormOf(float number) => number == MathF.Truncate(number) && MathF.Abs(number) < 1e7f ? "0" : "R";
}
