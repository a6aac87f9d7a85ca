using System.Collections.Frozen;
using System.Text;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports.Mapping;

/// <summary>Turns the cells of a site's column into cells of the protocol: missing words, codes, decimal comma, unit.</summary>
/// <remarks>A text that is not understood passes unchanged, so that the checks report it as the site wrote it.</remarks>
internal sealed class MappedCell
{
    private readonly FrozenDictionary<string, string> codes;
    private readonly FrozenSet<string> missing;
    private readonly bool decimalComma;
    private readonly (string From, string To)? unit;

    internal MappedCell(ColumnMapping mapping, ColumnDefinition column, TableMapping table)
    {
        codes = mapping.Codes.ToFrozenDictionary(c => c.From, c => c.To, StringComparer.Ordinal);
        missing = table.Missing.ToFrozenSet(StringComparer.Ordinal);
        bool number = column.Type is ColumnType.Number or ColumnType.WholeNumber;
        decimalComma = table.Layout.DecimalComma && number;
        unit = number && mapping.Unit is { } from && from != column.Unit ? (from, column.Unit!) : null;
    }

    /// <summary>A text in the words of the protocol.</summary>
    internal byte[] Of(ReadOnlySpan<byte> cell)
        => cell.IsEmpty ? [] : Encoding.UTF8.GetBytes(Translate(Encoding.UTF8.GetString(cell)));

    private string Translate(string text)
    {
        string trimmed = text.Trim();
        if (missing.Contains(trimmed))
            return string.Empty;
        if (codes.TryGetValue(trimmed, out string? code))
            return code;
        if (decimalComma && !trimmed.Contains('.', StringComparison.Ordinal) && trimmed.Count(c => c == ',') == 1)
            trimmed = trimmed.Replace(',', '.');
        return unit is { } u && UnitConversion.Convert(trimmed, u.From, u.To) is { } converted ? converted : trimmed;
    }
}
