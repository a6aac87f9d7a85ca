using System.Buffers;
using System.Globalization;
using System.Text;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Checks.Cells;

/// <summary>A cell of a numeric column: digits with a decimal point, finite, possible, plausible.</summary>
/// <remarks>A column of days whose lowest possible value is 0 collects days from enrolment on; a day before is named as such.</remarks>
internal static class NumberCell
{
    private const NumberStyles Style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;
    private static readonly SearchValues<byte> NumberWithCommas = SearchValues.Create("0123456789,.+-"u8);

    internal static Verdict Judge(ColumnDefinition column, ReadOnlySpan<byte> cell)
    {
        if (!double.TryParse(cell, Style, CultureInfo.InvariantCulture, out double value) || !double.IsFinite(value))
            return NotANumber(column, cell);
        // A negative zero is zero to everybody.
        value += 0.0;
        if (column.Type == ColumnType.WholeNumber && value != Math.Floor(value))
        {
            return Verdict.SetAside(
                CheckCatalog.TypeWholeNumber, "a whole number",
                $"{Shown(cell)} in '{column.Name}' is not a whole number.");
        }
        if (column is { Role: ColumnRole.Day, Possible.Lowest: 0 } && value < 0)
        {
            return Verdict.SetAside(
                CheckCatalog.DayBeforeEnrolment, Range(column.Possible, column),
                $"Day {Shown(cell)} in '{column.Name}' lies before enrolment.");
        }
        if (column.Possible is { } possible && !possible.Holds(value))
        {
            return Verdict.SetAside(
                CheckCatalog.RangePossible, Range(possible, column),
                $"{Shown(cell)} in '{column.Name}' cannot be true: possible is {Range(possible, column)}.");
        }
        if (column.Plausible is { } plausible && !plausible.Holds(value))
        {
            string what = $"{Shown(cell)} in '{column.Name}' is unusual: plausible is {Range(plausible, column)}. Please confirm or correct it.";
            return Verdict.OfNumber(value, new Objection(CheckCatalog.RangePlausible, Range(plausible, column), what));
        }
        return Verdict.OfNumber(value, null);
    }

    private static Verdict NotANumber(ColumnDefinition column, ReadOnlySpan<byte> cell)
    {
        string text = Encoding.UTF8.GetString(cell);
        if (cell.IndexOf((byte)',') >= 0 && cell.IndexOfAnyExcept(NumberWithCommas) < 0)
        {
            string meant = text.Count(c => c is ',' or '.') == 1 ? $" Write {text.Replace(',', '.')} if that is meant." : string.Empty;
            return Verdict.SetAside(
                CheckCatalog.TypeDecimalComma, "a number with a decimal point",
                $"{Shown(cell)} in '{column.Name}' is written with a comma.{meant}");
        }
        return Verdict.SetAside(
            CheckCatalog.TypeNumber, "a number",
            $"{Shown(cell)} in '{column.Name}' is not a number.{Hint(column, text)}");
    }

    private static string Hint(ColumnDefinition column, string text)
    {
        if (text != text.Trim())
            return " There are blanks around it.";
        if (text.Contains('\u2212', StringComparison.Ordinal) || text.Contains('\u2013', StringComparison.Ordinal))
            return " Write the minus sign as '-'.";
        return NearestName.Of(text, column.MissingCodes.Select(c => c.Code)) is { } near
            ? $" Is '{near}' meant, for '{column.MissingCodes.First(c => c.Code == near).Meaning}'?"
            : string.Empty;
    }

    private static string Shown(ReadOnlySpan<byte> cell) => CellJudge.Quote(Encoding.UTF8.GetString(cell));

    private static string Range(ValueRange range, ColumnDefinition column)
        => FormattableString.Invariant($"{range.Lowest} to {range.Highest}{(column.Unit is null ? string.Empty : " ")}{column.Unit}");
}
