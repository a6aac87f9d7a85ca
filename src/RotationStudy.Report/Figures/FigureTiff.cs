using System.Buffers.Binary;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>A laid-out figure as TIFF 6.0: one strip of RGB, LZW compression, resolution in the file. For journals that take no PNG.</summary>
internal static class FigureTiff
{
    private const int Entries = 12, HeaderLength = 8, DirectoryLength = 2 + Entries * 12 + 4, ExtraLength = 6 + 8 + 8;
    private const ushort Short = 3, Long = 4, Rational = 5;

    internal static byte[] Write(FigurePage page, int dotsPerInch = 600)
    {
        using SKSurface surface = FigurePng.Paint(page, dotsPerInch);
        using SKPixmap pixels = surface.PeekPixels() ?? throw new InvalidOperationException("The picture could not be read back.");
        byte[] strip = Compress(pixels);
        byte[] head = new byte[HeaderLength + DirectoryLength + ExtraLength];
        const int extra = HeaderLength + DirectoryLength;
        "II*\0"u8.CopyTo(head);
        BinaryPrimitives.WriteUInt32LittleEndian(head.AsSpan(4), HeaderLength);
        BinaryPrimitives.WriteUInt16LittleEndian(head.AsSpan(HeaderLength), Entries);
        (ushort Tag, ushort Type, uint Count, uint Value)[] directory =
        [
            (256, Long, 1, (uint)pixels.Width), (257, Long, 1, (uint)pixels.Height),
            (258, Short, 3, extra), // bits per sample
            (259, Short, 1, 5), // LZW
            (262, Short, 1, 2), // RGB
            (273, Long, 1, (uint)head.Length), // where the strip begins
            (277, Short, 1, 3), // samples per pixel
            (278, Long, 1, (uint)pixels.Height), (279, Long, 1, (uint)strip.Length),
            (282, Rational, 1, extra + 6), (283, Rational, 1, extra + 14), (296, Short, 1, 2), // dots per inch
        ];
        for (int i = 0; i < Entries; i++)
            WriteEntry(head.AsSpan(HeaderLength + 2 + 12 * i), directory[i]);
        for (int sample = 0; sample < 3; sample++)
            BinaryPrimitives.WriteUInt16LittleEndian(head.AsSpan(extra + 2 * sample), 8);
        foreach (int at in new[] { extra + 6, extra + 14 })
        {
            BinaryPrimitives.WriteUInt32LittleEndian(head.AsSpan(at), (uint)dotsPerInch);
            BinaryPrimitives.WriteUInt32LittleEndian(head.AsSpan(at + 4), 1);
        }
        return [.. head, .. strip];
    }

    private static void WriteEntry(Span<byte> to, (ushort Tag, ushort Type, uint Count, uint Value) entry)
    {
        BinaryPrimitives.WriteUInt16LittleEndian(to, entry.Tag);
        BinaryPrimitives.WriteUInt16LittleEndian(to[2..], entry.Type);
        BinaryPrimitives.WriteUInt32LittleEndian(to[4..], entry.Count);
        BinaryPrimitives.WriteUInt32LittleEndian(to[8..], entry.Value);
    }

    private static byte[] Compress(SKPixmap pixels)
    {
        TiffLzw packed = new();
        byte[] row = new byte[pixels.Width * 3];
        ReadOnlySpan<byte> all = pixels.GetPixelSpan();
        for (int y = 0; y < pixels.Height; y++)
        {
            ReadOnlySpan<byte> from = all[(y * pixels.RowBytes)..];
            for (int x = 0; x < pixels.Width; x++)
                from.Slice(4 * x, 3).CopyTo(row.AsSpan(3 * x));
            packed.Write(row);
        }
        return packed.Finish();
    }
}
