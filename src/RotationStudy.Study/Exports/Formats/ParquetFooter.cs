using System.Buffers.Binary;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Looks whether the lengths stated in the description at the end of a Parquet file can be true, before room is made for them.</summary>
/// <remarks>
/// The description is written in the compact protocol of Apache Thrift: fields with a type and a number, whole numbers of seven bits a
/// byte, texts and lists with their length in front. A few damaged bytes can promise two gigabytes of text.
/// </remarks>
internal ref struct ParquetFooter
{
    private const int TailLength = 8;
    private const int Deepest = 32;

    private readonly ReadOnlySpan<byte> bytes;
    private int position;

    private ParquetFooter(ReadOnlySpan<byte> bytes) => this.bytes = bytes;

    /// <summary>Refuses a file whose description cannot be true.</summary>
    /// <exception cref="UnreadableFileException">It cannot.</exception>
    internal static void Require(Stream stream)
    {
        Span<byte> tail = stackalloc byte[TailLength];
        if (stream.Length < TailLength + 4)
            throw Broken();
        stream.Position = stream.Length - TailLength;
        stream.ReadExactly(tail);
        int length = BinaryPrimitives.ReadInt32LittleEndian(tail);
        if (!tail[4..].SequenceEqual("PAR1"u8) || length <= 0 || length > stream.Length - TailLength - 4)
            throw Broken();
        byte[] footer = new byte[length];
        stream.Position = stream.Length - TailLength - length;
        stream.ReadExactly(footer);
        new ParquetFooter(footer).SkipFields(0);
        stream.Position = 0;
    }

    private static UnreadableFileException Broken() => new("it is no Parquet file, or is damaged");

    private void SkipFields(int depth)
    {
        if (depth > Deepest)
            throw Broken();
        while (true)
        {
            byte head = Byte();
            int type = head & 0x0F;
            if (type == 0)
                return;
            // No difference to the number of the field before: the number itself follows.
            if (head >> 4 == 0)
                Number();
            Skip(type, depth, inField: true);
        }
    }

    private void Skip(int type, int depth, bool inField)
    {
        switch (type)
        {
            case 1 or 2:
                // Truth values stand in the head of a field, and in a byte of their own in lists.
                Move(inField ? 0UL : 1UL);
                break;
            case 3:
                Move(1);
                break;
            case 4 or 5 or 6:
                Number();
                break;
            case 7:
                Move(8);
                break;
            case 8:
                Move(Number());
                break;
            case 9 or 10:
                SkipList(depth);
                break;
            case 12:
                SkipFields(depth + 1);
                break;
            default:
                throw Broken();
        }
    }

    private void SkipList(int depth)
    {
        byte head = Byte();
        ulong count = (ulong)(head >> 4);
        if (count == 15)
            count = Number();
        // Nothing takes less than a byte.
        if (count > (ulong)(bytes.Length - position) || depth > Deepest)
            throw Broken();
        for (ulong i = 0; i < count; i++)
            Skip(head & 0x0F, depth + 1, inField: false);
    }

    private void Move(ulong by)
    {
        if (by > (ulong)(bytes.Length - position))
            throw Broken();
        position += (int)by;
    }

    private byte Byte()
    {
        if (position >= bytes.Length)
            throw Broken();
        return bytes[position++];
    }

    private ulong Number()
    {
        ulong number = 0;
        for (int shift = 0; shift < 64; shift += 7)
        {
            byte b = Byte();
            number |= (ulong)(b & 0x7F) << shift;
            if (b < 0x80)
                return number;
        }
        throw Broken();
    }
}
