using System.Text;

namespace RotationStudy.FaultStudies.Readers;

/// <summary>Damages bytes in ways that readers stumble over. Equal numbers give equal damage.</summary>
/// <param name="number">Number of the input.</param>
internal sealed class Mutator(int number)
{
    private static readonly byte[][] Pieces =
    [
        .. new[]
        {
            "\"", "\"\"", ",", ";", "\t", "\r", "\n", "\r\n", "\0", "=1+1", "-", "+", "0", "-0", "1e999", "1e-999", "NaN", "Infinity", "9999999999999999999999", "2147483648",
            "-1", "0x1F", "1,5", "#N/A", "#DIV/0!", "null", "true", "[", "]", "{", "}", "<", ">", "&", "&amp;", "<b>", "</c>", "<![CDATA[", "<!DOCTYPE x [<!ENTITY a \"b\">]>", "&a;",
            "t=\"e\"", "t=\"s\"", "r=\"XFD1048576\"", "r=\"ZZZZZZ1\"", "r=\"0\"", "\u202E", "\u200B", "\uFEFF", "\u0430", "\uFF11", "\u0007", "\u001B[31m", "../", "/", "\\", "C:", "\"rows\":", "\"columns\":",
        }.Select(Encoding.UTF8.GetBytes),
        [0xFF, 0xFE], [0xEF, 0xBB, 0xBF], [0xC3], [0xED, 0xA0, 0x80], [0xFF, 0xFF, 0xFF, 0xFF], [0x7F, 0xFF, 0xFF, 0xFF], [0x80, 0x80, 0x80, 0x80, 0x08], [0x50, 0x4B, 0x03, 0x04], [0x50, 0x41, 0x52, 0x31],
    ];

    private ulong state = ((ulong)(uint)number * 0x9E37_79B9_7F4A_7C15) + 0x2026_1125;

    /// <summary>A whole number below another.</summary>
    internal int Below(int most)
    {
        state += 0x9E37_79B9_7F4A_7C15;
        ulong z = state;
        z = (z ^ (z >> 30)) * 0xBF58_476D_1CE4_E5B9;
        z = (z ^ (z >> 27)) * 0x94D0_49BB_1331_11EB;
        return (int)((z ^ (z >> 31)) % (ulong)Math.Max(most, 1));
    }

    /// <summary>Bytes with one to four faults.</summary>
    internal byte[] Damage(byte[] bytes)
    {
        int faults = 1 + Below(4);
        for (int i = 0; i < faults; i++)
            bytes = Once(bytes);
        return bytes;
    }

    private byte[] Once(byte[] bytes)
    {
        int at = Below(bytes.Length + 1);
        int end = Math.Min(bytes.Length, at + Below(24));
        switch (Below(8))
        {
            case 0:
                return bytes[..at];
            case 1:
                return [.. bytes[..at], .. bytes[end..]];
            case 2:
                return [.. bytes[..end], .. bytes[at..]];
            case 3:
                byte[] flipped = [.. bytes];
                if (at < flipped.Length)
                    flipped[at] ^= (byte)(1 << Below(8));
                return flipped;
            case 4:
                byte[] replaced = [.. bytes];
                for (int i = at; i < end; i++)
                    replaced[i] = (byte)Below(256);
                return replaced;
            case 5:
                byte[] piece = Pieces[Below(Pieces.Length)];
                return [.. bytes[..at], .. Enumerable.Repeat(piece, 1 + (Below(8) == 0 ? Below(3000) : 0)).SelectMany(p => p), .. bytes[at..]];
            default:
                return [.. bytes[..at], .. Pieces[Below(Pieces.Length)], .. bytes[end..]];
        }
    }
}
