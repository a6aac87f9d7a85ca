using System.Buffers.Binary;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>A laid-out figure as PNG at print resolution, with the resolution written into the file.</summary>
internal static class FigurePng
{
    private const int HeaderEnd = 8 + 25;
    private static readonly uint[] CrcTable = MakeCrcTable();

    internal static byte[] Write(FigurePage page, int? resolution = null)
    {
        int dotsPerInch = resolution ?? page.Style.DotsPerInch;
        using SKSurface surface = Paint(page, dotsPerInch);
        using SKPixmap? pixels = surface.PeekPixels();
        using SKData? png = pixels?.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.AllFilters, 5));
        return WithResolution((png ?? throw new InvalidOperationException("The picture could not be written as PNG.")).AsSpan(), dotsPerInch);
    }

    /// <summary>The figure in dots.</summary>
    internal static SKSurface Paint(FigurePage page, int dotsPerInch)
    {
        float scale = dotsPerInch / 72f * page.Style.Scale;
        SKImageInfo size = new(
            (int)MathF.Round(page.Width * scale), (int)MathF.Round(page.Height * scale), SKColorType.Rgba8888, SKAlphaType.Opaque);
        SKSurface surface = SKSurface.Create(size)
            ?? throw new InvalidOperationException($"A picture of {size.Width} by {size.Height} dots could not be made.");
        surface.Canvas.Clear(page.Style.Paper);
        surface.Canvas.Scale(scale);
        page.DrawMarks(surface.Canvas);
        page.DrawTexts(surface.Canvas);
        return surface;
    }

    /// <summary>Puts the pHYs chunk (dots per metre) behind the header, where the PNG standard wants it.</summary>
    private static byte[] WithResolution(ReadOnlySpan<byte> png, int dotsPerInch)
    {
        uint dotsPerMetre = (uint)Math.Round(dotsPerInch / 0.0254);
        byte[] chunk = new byte[21];
        BinaryPrimitives.WriteUInt32BigEndian(chunk, 9);
        "pHYs"u8.CopyTo(chunk.AsSpan(4));
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(8), dotsPerMetre);
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(12), dotsPerMetre);
        chunk[16] = 1;
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(17), Crc(chunk.AsSpan(4, 13)));
        return [.. png[..HeaderEnd], .. chunk, .. png[HeaderEnd..]];
    }

    private static uint Crc(ReadOnlySpan<byte> bytes)
    {
        uint crc = uint.MaxValue;
        foreach (byte b in bytes)
            crc = CrcTable[(crc ^ b) & 0xff] ^ (crc >> 8);
        return ~crc;
    }

    private static uint[] MakeCrcTable()
    {
        uint[] table = new uint[256];
        for (uint n = 0; n < 256; n++)
        {
            uint c = n;
            for (int bit = 0; bit < 8; bit++)
                c = (c & 1) != 0 ? 0xedb88320 ^ (c >> 1) : c >> 1;
            table[n] = c;
        }
        return table;
    }
}
