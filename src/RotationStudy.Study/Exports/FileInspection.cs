using System.Buffers;
using System.Security.Cryptography;
using System.Text;
using System.Text.Unicode;

namespace RotationStudy.Study.Exports;

/// <summary>How the text of a file is encoded.</summary>
internal enum TextEncoding
{
    /// <summary>UTF-8, with or without its mark.</summary>
    Utf8,

    /// <summary>UTF-16, low byte first, with its mark.</summary>
    Utf16LowFirst,

    /// <summary>UTF-16, high byte first, with its mark.</summary>
    Utf16HighFirst,
}

/// <summary>What one pass over the bytes of a file tells, before any of it is taken for a table.</summary>
/// <param name="Sha256">Hash of the bytes.</param>
/// <param name="Bytes">Length.</param>
/// <param name="Encoding">Encoding by its mark; UTF-8 without one.</param>
/// <param name="MarkLength">Length of the mark in bytes.</param>
/// <param name="BadLine">Line of the first byte that is no UTF-8 text; 0 when all is.</param>
/// <param name="BadByte">That byte.</param>
/// <param name="NulLine">Line of the first zero byte of UTF-8 text; 0 when there is none.</param>
/// <param name="IsBlank">Whether the file holds nothing but blanks and line ends.</param>
internal sealed record FileInspection(
    string Sha256, long Bytes, TextEncoding Encoding, int MarkLength, int BadLine, byte BadByte, int NulLine, bool IsBlank)
{
    private const int BufferLength = 1 << 18;
    private static readonly SearchValues<byte> Blank = SearchValues.Create(" \t\r\n\0"u8);

    /// <summary>Reads the stream from its start to its end.</summary>
    internal static FileInspection Read(Stream stream, CancellationToken cancellation = default)
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Utf8Scan scan = new();
        byte[] buffer = ArrayPool<byte>.Shared.Rent(BufferLength);
        long length = 0;
        bool blank = true;
        (TextEncoding encoding, int mark) = (TextEncoding.Utf8, 0);
        try
        {
            for (int got = stream.ReadAtLeast(buffer, 4, false); got > 0; got = stream.Read(buffer))
            {
                cancellation.ThrowIfCancellationRequested();
                ReadOnlySpan<byte> part = buffer.AsSpan(0, got);
                hash.AppendData(part);
                if (length == 0)
                {
                    (encoding, mark) = MarkOf(part);
                    part = part[mark..];
                }
                length += got;
                blank = blank && part.IndexOfAnyExcept(Blank) < 0;
                if (encoding == TextEncoding.Utf8)
                    scan.Add(part);
            }
            scan.End();
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(buffer);
        }
        string sha256 = Convert.ToHexStringLower(hash.GetHashAndReset());
        return new FileInspection(sha256, length, encoding, mark, scan.BadLine, scan.BadByte, scan.NulLine, blank);
    }

    private static (TextEncoding Encoding, int Length) MarkOf(ReadOnlySpan<byte> start)
    {
        if (start.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]))
            return (TextEncoding.Utf8, 3);
        if (start.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]))
            return (TextEncoding.Utf16LowFirst, 2);
        return start.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]) ? (TextEncoding.Utf16HighFirst, 2) : (TextEncoding.Utf8, 0);
    }

    /// <summary>Looks for the first byte that is no UTF-8 and the first zero byte, across the parts of a stream.</summary>
    private sealed class Utf8Scan
    {
        private readonly byte[] carried = new byte[8];
        private int carriedLength;
        private int line = 1;

        internal int BadLine { get; private set; }

        internal byte BadByte { get; private set; }

        internal int NulLine { get; private set; }

        internal void Add(ReadOnlySpan<byte> part)
        {
            if (carriedLength > 0 && BadLine == 0)
                part = part[Complete(part)..];
            if (part.IsEmpty)
                return;
            int cut = BadLine == 0 ? LengthOfWholeLetters(part) : part.Length;
            Scan(part[..cut]);
            part[cut..].CopyTo(carried);
            carriedLength = part.Length - cut;
        }

        /// <summary>A letter that the end of the file cuts off is no text either.</summary>
        internal void End()
        {
            Scan(carried.AsSpan(0, carriedLength));
            carriedLength = 0;
        }

        /// <summary>Completes the letter cut off by the end of the last part, and says how many bytes that took.</summary>
        private int Complete(ReadOnlySpan<byte> part)
        {
            int take = Math.Min(part.Length, 4 - carriedLength);
            part[..take].CopyTo(carried.AsSpan(carriedLength));
            if (Rune.DecodeFromUtf8(carried.AsSpan(0, carriedLength + take), out _, out int consumed) == OperationStatus.NeedMoreData)
            {
                // A stream may hand out less than a letter at a time: what is there goes on waiting for the rest.
                carriedLength += take;
                return take;
            }
            consumed = Math.Max(consumed, carriedLength);
            Scan(carried.AsSpan(0, consumed));
            int taken = consumed - carriedLength;
            carriedLength = 0;
            return taken;
        }

        private static int LengthOfWholeLetters(ReadOnlySpan<byte> part)
        {
            for (int back = 1; back <= Math.Min(3, part.Length); back++)
            {
                byte b = part[^back];
                if ((b & 0xC0) == 0x80)
                    continue;
                int needed = b >= 0xF0 ? 4 : b >= 0xE0 ? 3 : b >= 0xC0 ? 2 : 1;
                return needed > back ? part.Length - back : part.Length;
            }
            return part.Length;
        }

        private void Scan(ReadOnlySpan<byte> part)
        {
            if (NulLine == 0 && part.IndexOf((byte)0) is var nul and >= 0)
                NulLine = line + part[..nul].Count((byte)'\n');
            if (BadLine == 0 && !Utf8.IsValid(part))
            {
                int at = 0;
                while (Rune.DecodeFromUtf8(part[at..], out _, out int consumed) == OperationStatus.Done)
                    at += consumed;
                BadLine = line + part[..at].Count((byte)'\n');
                BadByte = part[at];
            }
            line += part.Count((byte)'\n');
        }
    }
}
