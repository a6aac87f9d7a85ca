using RotationStudy.Study.Exports.Formats;

namespace RotationStudy.Study.Exports;

/// <summary>Gathers the cells of a column and numbers its distinct texts, without making a string of any.</summary>
internal sealed class RawColumnBuilder(string name)
{
    /// <summary>Differing texts of one column are kept whole; more than this is no column of a study.</summary>
    private const int MostBytes = 1 << 30;

    // Drawn anew by each process, so that no file can be written whose texts all meet in one slot. Results do not depend on it.
    private static readonly ulong Multiplier = ((ulong)(uint)HashCode.Combine(1) << 32) | (uint)HashCode.Combine(2) | 1;

    private readonly CellNumbers cells = new();
    private int[] block = new int[64];
    private int inBlock;
    private byte[] bytes = new byte[64];
    private int[] ends = new int[16];
    private int[] hashes = new int[16];
    private int[] slots = NewSlots(32);
    private int texts;
    private int used;

    /// <summary>Adds the cell of the next row.</summary>
    /// <exception cref="UnreadableFileException">The column holds more differing text than any column of a study.</exception>
    internal void Add(ReadOnlySpan<byte> cell) => AddNumber(NumberOf(cell));

    /// <summary>Adds a cell whose text already has a number.</summary>
    internal void AddNumber(int text)
    {
        if (inBlock == block.Length)
            Array.Resize(ref block, Math.Min(block.Length * 4, CellNumbers.BlockRows));
        block[inBlock++] = text;
        if (inBlock == CellNumbers.BlockRows)
            EndBlock();
    }

    /// <summary>The number of a text, a new one where it was not seen before.</summary>
    internal int NumberOf(ReadOnlySpan<byte> cell)
    {
        int hash = Hash(cell);
        int mask = slots.Length - 1;
        int slot = hash & mask;
        for (; slots[slot] >= 0; slot = (slot + 1) & mask)
        {
            int text = slots[slot];
            if (hashes[text] == hash && Span(text).SequenceEqual(cell))
                return text;
        }
        slots[slot] = texts;
        Store(cell, hash);
        return texts - 1;
    }

    internal RawColumn Build()
    {
        EndBlock();
        return new RawColumn(name, cells, bytes.AsSpan(0, used).ToArray(), ends.AsSpan(0, texts).ToArray());
    }

    /// <summary>The cells of some rows of a column in other words: each of its texts is put into other words once.</summary>
    internal void AddOf(RawColumn column, IEnumerable<int> rows, Func<int, byte[]> inOtherWords)
    {
        int[] numberOfText = NewSlots(column.Texts);
        foreach (int row in rows)
        {
            ref int number = ref numberOfText[column.TextOf(row)];
            if (number < 0)
                number = NumberOf(inOtherWords(column.TextOf(row)));
            AddNumber(number);
        }
    }

    private static int[] NewSlots(int length)
    {
        int[] empty = new int[length];
        Array.Fill(empty, -1);
        return empty;
    }

    private static int Hash(ReadOnlySpan<byte> cell)
    {
        if (cell.Length > 8)
        {
            HashCode code = default;
            code.AddBytes(cell);
            return code.ToHashCode();
        }
        ulong letters = (ulong)cell.Length << 56;
        for (int i = 0; i < cell.Length; i++)
            letters ^= (ulong)cell[i] << (8 * i);
        return (int)((letters * Multiplier) >> 32);
    }

    private void EndBlock()
    {
        if (inBlock > 0)
            cells.Add(block.AsSpan(0, inBlock));
        inBlock = 0;
    }

    private ReadOnlySpan<byte> Span(int text)
    {
        int start = text == 0 ? 0 : ends[text - 1];
        return bytes.AsSpan(start, ends[text] - start);
    }

    private void Store(ReadOnlySpan<byte> cell, int hash)
    {
        if (used + cell.Length > bytes.Length)
        {
            if (used > MostBytes - cell.Length)
                throw new UnreadableFileException($"its column '{name}' holds more than a gigabyte of differing text");
            Array.Resize(ref bytes, (int)Math.Min(MostBytes, Math.Max(bytes.Length * 2L, used + cell.Length)));
        }
        if (texts == ends.Length)
        {
            Array.Resize(ref ends, texts * 2);
            Array.Resize(ref hashes, texts * 2);
        }
        cell.CopyTo(bytes.AsSpan(used));
        used += cell.Length;
        ends[texts] = used;
        hashes[texts] = hash;
        texts++;
        if (texts * 2 > slots.Length)
            Rehash();
    }

    private void Rehash()
    {
        slots = NewSlots(slots.Length * 2);
        int mask = slots.Length - 1;
        for (int text = 0; text < texts; text++)
        {
            int slot = hashes[text] & mask;
            while (slots[slot] >= 0)
                slot = (slot + 1) & mask;
            slots[slot] = text;
        }
    }
}
