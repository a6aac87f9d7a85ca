using System.Text;

namespace RotationStudy.Study.Exports;

/// <summary>The cells of one column: each distinct text is kept once, and each row says which text it has.</summary>
/// <remarks>
/// Study data repeat themselves: codes, whole degrees, days. A text is therefore stored, judged and converted once however
/// many rows hold it, and a cell costs one byte while a column has no more than 256 texts, two up to 65,536, else four.
/// </remarks>
public sealed class RawColumn
{
    private readonly CellNumbers cells;
    private readonly byte[] bytes;
    private readonly int[] ends;

    internal RawColumn(string name, CellNumbers cells, byte[] bytes, int[] ends)
    {
        Name = name;
        this.cells = cells;
        this.bytes = bytes;
        this.ends = ends;
    }

    /// <summary>Name of the column, as the header writes it.</summary>
    public string Name { get; }

    /// <summary>Number of rows.</summary>
    public int Rows => cells.Count;

    /// <summary>Number of distinct texts.</summary>
    public int Texts => ends.Length;

    /// <summary>Number of the text of a row, from 0 in order of first appearance.</summary>
    public int TextOf(int row) => cells[row];

    /// <summary>The bytes of a text in UTF-8, without quotation marks that enclosed it.</summary>
    public ReadOnlySpan<byte> Utf8(int text)
    {
        int start = text == 0 ? 0 : ends[text - 1];
        return bytes.AsSpan(start, ends[text] - start);
    }

    /// <summary>A text.</summary>
    public string Text(int text) => Encoding.UTF8.GetString(Utf8(text));

    /// <summary>The text of a row.</summary>
    public string Cell(int row) => Text(cells[row]);
}
