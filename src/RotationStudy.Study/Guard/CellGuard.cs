using System.Buffers.Text;
using System.Text;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Guard;

/// <summary>Says which rule of the guard, if any, one distinct text of a column meets.</summary>
/// <param name="header">Name of the column.</param>
/// <param name="definition">Its declaration; null for a column that the protocol does not know.</param>
internal sealed class CellGuard(string header, ColumnDefinition? definition)
{
    private const int LongestCell = 200;
    private const int ShortestText = 4;

    private readonly bool ages = AgeOver89.IsColumn(header);
    private readonly bool days = definition is { Role: ColumnRole.Day } or { Unit: "days" };
    private readonly HashSet<string> known = [.. (definition?.Codes ?? []).Select(c => c.Code), .. (definition?.MissingCodes ?? []).Select(c => c.Code)];

    internal CheckRule? RuleOf(ReadOnlySpan<byte> cell)
    {
        if (cell.IsEmpty)
            return null;
        if (definition is not { Type: ColumnType.Identifier or ColumnType.Code } && Utf8Parser.TryParse(cell, out double number, out int used) && used == cell.Length)
            return NumberRule(number, cell);
        if (cell.Length < ShortestText)
            return null;
        string text = Encoding.UTF8.GetString(cell);
        return known.Contains(text) ? null : TextRule(text);
    }

    /// <summary>The first rule that a text meets.</summary>
    internal static CheckRule? TextRule(string raw)
    {
        if (raw.Length < ShortestText)
            return null;
        if (raw.Length > LongestCell)
            return GuardRules.FreeText;
        string text = Plain(raw);
        return EmailAddress.IsIn(text) ? GuardRules.Email
            : CalendarDate.IsIn(text) ? GuardRules.Date
            : PostalAddress.IsIn(text) ? GuardRules.Address
            : PhoneNumber.IsIn(text) ? GuardRules.Phone
            : RecordNumber.IsIn(text) ? GuardRules.RecordNumber
            : PersonName.IsIn(text) ? GuardRules.Name
            : FreeText.IsIn(text) ? GuardRules.FreeText
            : null;
    }

    /// <summary>Full-width letters, digits and signs read like plain ones.</summary>
    private static string Plain(string text) => string.Create(text.Length, text, static (plain, wide) =>
    {
        for (int i = 0; i < plain.Length; i++)
            plain[i] = wide[i] is >= '\uFF01' and <= '\uFF5E' ? (char)(wide[i] - 0xFEE0) : wide[i];
    });

    private CheckRule? NumberRule(double number, ReadOnlySpan<byte> cell)
    {
        if (ages && AgeOver89.Holds(number))
            return GuardRules.Age;
        if (definition?.Possible is { } possible && possible.Holds(number))
            return null;
        if (days && CalendarDate.IsSerial(number))
            return GuardRules.Date;
        // Looking for patterns in a run of a million digits takes forever, and no measurement has so many.
        if (cell.Length > LongestCell)
            return GuardRules.RecordNumber;
        return cell.Length >= 7 ? PlainNumberRule(Encoding.UTF8.GetString(cell)) : null;
    }

    private static CheckRule? PlainNumberRule(string text)
        => CalendarDate.IsIn(text) ? GuardRules.Date
            : PhoneNumber.IsIn(text) ? GuardRules.Phone
            : RecordNumber.IsIn(text) ? GuardRules.RecordNumber
            : null;
}
