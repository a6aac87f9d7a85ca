using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Checks.Cells;

/// <summary>A cell of a coded column: exactly one of the codes. Variants in case or blanks are named, not repaired.</summary>
internal static class CodeCell
{
    internal static Verdict Judge(ColumnDefinition column, string text)
    {
        ImmutableArray<CodeDefinition> codes = column.Codes;
        for (int i = 0; i < codes.Length; i++)
        {
            if (string.Equals(codes[i].Code, text, StringComparison.Ordinal))
                return Verdict.OfCode(i);
        }
        string[] valid = [.. codes.Concat(column.MissingCodes).Select(c => c.Code)];
        string shown = CellJudge.Quote(text);
        if (column.Role == ColumnRole.Side)
            return Verdict.SetAside(CheckCatalog.SideUnknown, "L or R", $"The side {shown} is neither L nor R.");
        string hint = valid.FirstOrDefault(v => string.Equals(v, text.Trim(), StringComparison.OrdinalIgnoreCase)) is { } variant
            ? $"Write it exactly as '{variant}'."
            : NearestName.Hint(text, valid);
        return Verdict.SetAside(
            CheckCatalog.CodeUnknown, string.Join(", ", valid),
            $"{shown} is no code of '{column.Name}'. {hint}");
    }
}
