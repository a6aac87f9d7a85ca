using System.Buffers;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Cells;

/// <summary>A cell of identifiers: plain letters, digits and a few signs, so that what looks equal is equal.</summary>
internal static class IdentifierCell
{
    private const int Longest = 64;
    private static readonly SearchValues<char> Plain = SearchValues.Create("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_./:#+");

    internal static Verdict Judge(ColumnDefinition column, string text)
    {
        if (text.Length <= Longest && text.AsSpan().IndexOfAnyExcept(Plain) < 0)
            return Verdict.OfIdentifier(text);
        string shown = CellJudge.Quote(text);
        string what = text.Length > Longest ? $"is longer than {Longest} characters"
            : text != text.Trim() ? "has blanks around it"
            : text.Any(char.IsControl) ? "holds control characters"
            : text.Any(c => c > '~') ? "holds letters or signs that are not plain and may look like others"
            : "holds a blank or a sign that identifiers do not have";
        return Verdict.SetAside(
            CheckCatalog.IdentifierForm, "letters a to z, digits, - _ . / : # +",
            $"The identifier {shown} in '{column.Name}' {what}.");
    }
}
