using System.Text;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Cells;

/// <summary>Turns the texts of a column into values, missing values with their reason, and objections.</summary>
internal static class CellJudge
{
    /// <summary>Reason of an empty cell.</summary>
    internal const string NotRecorded = "not recorded";

    /// <summary>Reason of every cell of a column that the export lacks.</summary>
    internal const string ColumnAbsent = "column not in the export";

    /// <summary>One verdict per text of the column.</summary>
    internal static Verdict[] Judge(ColumnDefinition column, RawColumn raw)
    {
        Dictionary<string, string> missing = column.MissingCodes.ToDictionary(c => c.Code, c => c.Meaning, StringComparer.Ordinal);
        Verdict[] verdicts = new Verdict[raw.Texts];
        for (int text = 0; text < verdicts.Length; text++)
            verdicts[text] = Judge(column, raw.Utf8(text), missing);
        return verdicts;
    }

    private static Verdict Judge(ColumnDefinition column, ReadOnlySpan<byte> cell, Dictionary<string, string> missing)
    {
        if (cell.IndexOfAnyExcept(" \t"u8) < 0)
            return Verdict.NoValue(NotRecorded);
        // Missing codes are few and short; only texts of their length can be one.
        foreach ((string code, string meaning) in missing)
        {
            if (cell.Length == Encoding.UTF8.GetByteCount(code) && Encoding.UTF8.GetString(cell) == code)
                return Verdict.NoValue(meaning);
        }
        return column.Type switch
        {
            ColumnType.Code => CodeCell.Judge(column, Encoding.UTF8.GetString(cell)),
            ColumnType.Identifier => IdentifierCell.Judge(column, Encoding.UTF8.GetString(cell)),
            _ => NumberCell.Judge(column, cell),
        };
    }

    /// <summary>A cell in quotes, with control characters made visible and long texts cut.</summary>
    internal static string Quote(string text) => $"'{Visible(text)}'";

    /// <summary>A cell as it may be shown: control characters and direction marks as U+code, at most eighty characters.</summary>
    internal static string Visible(string text)
    {
        const int longest = 80;
        StringBuilder shown = new();
        foreach (Rune letter in text.EnumerateRunes())
        {
            if (shown.Length >= longest)
                return shown.Append('…').ToString();
            if (Rune.IsControl(letter) || Rune.GetUnicodeCategory(letter) is System.Globalization.UnicodeCategory.Format)
                shown.Append(FormattableString.Invariant($"[U+{letter.Value:X4}]"));
            else
                shown.Append(letter.ToString());
        }
        return shown.ToString();
    }
}
