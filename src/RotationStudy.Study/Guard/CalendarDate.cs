using System.Globalization;
using System.Text.RegularExpressions;

namespace RotationStudy.Study.Guard;

/// <summary>Full dates in the forms that clinics write, dates of birth among them, and the day numbers of spreadsheets.</summary>
internal static partial class CalendarDate
{
    /// <summary>Whole days since the end of 1899, from 1910 to 2064, as spreadsheets store dates.</summary>
    private const double FirstSerial = 3654;
    private const double LastSerial = 60000;

    internal static bool IsIn(string text)
        => YearFirst().Matches(text).Any(m => IsDay(m.Groups[1].Value, m.Groups[3].Value, m.Groups[4].Value))
            || YearLast().Matches(text).Any(m => IsDay(m.Groups[4].Value, m.Groups[3].Value, m.Groups[1].Value) || IsDay(m.Groups[4].Value, m.Groups[1].Value, m.Groups[3].Value))
            || Compact().Matches(text).Any(m => IsDay(m.Value[..4], m.Value[4..6], m.Value[6..]))
            || Worded().IsMatch(text);

    /// <summary>Whether a number may be the day number of a spreadsheet; only asked where the protocol's range does not hold it.</summary>
    internal static bool IsSerial(double value) => value is >= FirstSerial and <= LastSerial && Math.Floor(value) is var day && (value == day || value - day < 1);

    private static bool IsDay(string year, string month, string day)
    {
        int y = int.Parse(year, NumberStyles.None, CultureInfo.InvariantCulture);
        int m = int.Parse(month, NumberStyles.None, CultureInfo.InvariantCulture);
        int d = int.Parse(day, NumberStyles.None, CultureInfo.InvariantCulture);
        y = year.Length == 2 ? 2000 + y : y;
        return y is >= 1900 and < 2100 && m is >= 1 and <= 12 && d >= 1 && d <= DateTime.DaysInMonth(y, m);
    }

    [GeneratedRegex(@"(?<![0-9])([0-9]{4})([-/. ])([0-9]{1,2})\2([0-9]{1,2})(?![0-9])", RegexOptions.CultureInvariant)]
    private static partial Regex YearFirst();

    [GeneratedRegex(@"(?<![0-9.])([0-9]{1,2})([-/.]|\. ?)([0-9]{1,2})\2([0-9]{4}|[0-9]{2})(?![0-9])", RegexOptions.CultureInvariant)]
    private static partial Regex YearLast();

    [GeneratedRegex(@"(?<![0-9])(19|20)[0-9]{6}(?![0-9])", RegexOptions.CultureInvariant)]
    private static partial Regex Compact();

    [GeneratedRegex(
        @"(?<![0-9])[0-9]{1,2}(st|nd|rd|th)?[. /-]{0,2}(jan|feb|mar|mär|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)\p{L}*[., /-]{0,2}([0-9]{4}|[0-9]{2})(?![0-9])"
        + @"|\b(jan|feb|mar|mär|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)\p{L}*[. ]{1,2}[0-9]{1,2}(st|nd|rd|th)?,? [0-9]{4}(?![0-9])",
        RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Worded();
}
