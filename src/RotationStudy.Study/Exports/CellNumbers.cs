using System.Buffers.Binary;

namespace RotationStudy.Study.Exports;

/// <summary>One whole number per row, in one, two or four bytes: as many as the largest of each block of rows needs.</summary>
/// <remarks>Blocks do not move when more rows come, so that growing costs no second copy.</remarks>
internal sealed class CellNumbers
{
    private const int BlockBits = 14;

    /// <summary>Rows of a block.</summary>
    internal const int BlockRows = 1 << BlockBits;

    private readonly List<(byte[] Bytes, int Width)> blocks = [];

    /// <summary>Number of rows.</summary>
    internal int Count { get; private set; }

    /// <summary>The number of a row.</summary>
    internal int this[int row]
    {
        get
        {
            (byte[] bytes, int width) = blocks[row >> BlockBits];
            int at = row & (BlockRows - 1);
            return width switch
            {
                1 => bytes[at],
                2 => BinaryPrimitives.ReadUInt16LittleEndian(bytes.AsSpan(at * 2)),
                _ => BinaryPrimitives.ReadInt32LittleEndian(bytes.AsSpan(at * 4)),
            };
        }
    }

    /// <summary>Adds a block; all but the last have <see cref="BlockRows"/> rows.</summary>
    internal void Add(ReadOnlySpan<int> numbers)
    {
        int most = 0;
        foreach (int number in numbers)
            most |= number;
        int width = most <= byte.MaxValue ? 1 : most <= ushort.MaxValue ? 2 : 4;
        byte[] bytes = new byte[numbers.Length * width];
        for (int i = 0; i < numbers.Length; i++)
        {
            if (width == 1)
                bytes[i] = (byte)numbers[i];
            else if (width == 2)
                BinaryPrimitives.WriteUInt16LittleEndian(bytes.AsSpan(i * 2), (ushort)numbers[i]);
            else
                BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(i * 4), numbers[i]);
        }
        blocks.Add((bytes, width));
        Count += numbers.Length;
    }
}
