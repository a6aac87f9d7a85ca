using System.Collections.Frozen;
using System.Text;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports.Mapping;

/// <summary>Turns a cell of a site into a cell of the protocol: missing words, codes, decimal comma, unit.</summary>
/// <remarks>A text that is not understood passes unchanged, so that the checks report it as the site wrote it.</remarks>
internal sealed class MappedCell
{
    private readonly FrozenDictionary<string, string> codes;
    private readonly FrozenSet<string> missing;
    private readonly bool decimalComma;
    private readonly (string From, string To)? unit;
    private readonly Dictionary<string, byte[]> done = new(StringComparer.Ordinal);
    private readonly byte[]? always;

    internal MappedCell(ColumnMapping mapping, ColumnDefinition column, TableMapping table, int position)
    {
        Position = position;
        always = mapping.Always is { } value ? Encoding.UTF8.GetBytes(value) : null;
        codes = mapping.Codes.ToFrozenDictionary(c => c.From, c => c.To, StringComparer.Ordinal);
        missing = table.Missing.ToFrozenSet(StringComparer.Ordinal);
        bool number = column.Type is ColumnType.Number or ColumnType.WholeNumber;
        decimalComma = table.Layout.DecimalComma && number;
        unit = number && mapping.Unit is { } from && from != column.Unit ? (from, column.Unit!) : null;
    }

    /// <summary>Place of the cell in the site's file; negative where the value is always the same.</summary>
    internal int Position { get; }

    /// <summary>The cell in the words of the protocol.</summary>
    internal ReadOnlySpan<byte> Of(Formats.RowSource source)
    {
        if (always is not null)
            return always;
        ReadOnlySpan<byte> cell = source.Cell(Position);
        if (cell.IsEmpty)
            return cell;
        string text = Encoding.UTF8.GetString(cell);
        if (!done.TryGetValue(text, out byte[]? translated))
        {
            translated = Encoding.UTF8.GetBytes(Translate(text));
            if (done.Count < 1 << 16)
                done.Add(text, translated);
        }
        return translated;
    }

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
