using System.Collections.Immutable;

namespace RotationStudy.Study.Exports;

/// <summary>Gathers the cells of a column and numbers its distinct texts, without making a string of any.</summary>
internal sealed class RawColumnBuilder(string name)
{
    private readonly ImmutableArray<int>.Builder cells = ImmutableArray.CreateBuilder<int>();
    private byte[] bytes = new byte[256];
    private int[] ends = new int[16];
    private int[] hashes = new int[16];
    private int[] slots = NewSlots(32);
    private int texts;
    private int used;

    internal void Add(ReadOnlySpan<byte> cell)
    {
        HashCode code = default;
        code.AddBytes(cell);
        int hash = code.ToHashCode();
        int mask = slots.Length - 1;
        int slot = hash & mask;
        for (; slots[slot] >= 0; slot = (slot + 1) & mask)
        {
            int text = slots[slot];
            if (hashes[text] == hash && Span(text).SequenceEqual(cell))
            {
                cells.Add(text);
                return;
            }
        }
        slots[slot] = texts;
        cells.Add(texts);
        Store(cell, hash);
    }

    internal RawColumn Build() => new(name, cells.DrainToImmutable(), bytes.AsSpan(0, used).ToArray(), ends.AsSpan(0, texts).ToArray());

    private static int[] NewSlots(int length)
    {
        int[] empty = new int[length];
        Array.Fill(empty, -1);
        return empty;
    }

    private ReadOnlySpan<byte> Span(int text)
    {
        int start = text == 0 ? 0 : ends[text - 1];
        return bytes.AsSpan(start, ends[text] - start);
    }

    private void Store(ReadOnlySpan<byte> cell, int hash)
    {
        if (used + cell.Length > bytes.Length)
            Array.Resize(ref bytes, Math.Max(bytes.Length * 2, used + cell.Length));
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
