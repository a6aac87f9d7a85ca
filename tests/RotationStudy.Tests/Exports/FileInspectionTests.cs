using System.Text;
using CsCheck;
using RotationStudy.Study.Exports;

namespace RotationStudy.Tests.Exports;

public sealed class FileInspectionTests
{
    private static readonly Gen<byte> Bytes = Gen.OneOf(Gen.Const((byte)'\n'), Gen.Byte[32, 126], Gen.Byte[0x80, 0xFF]);

    /// <summary>The strict decoder of the platform is the judge; the stream hands out odd parts, as a pipe would.</summary>
    [Fact]
    public void Text_is_judged_as_the_platform_judges_it_wherever_the_parts_are_cut()
    {
        UTF8Encoding strict = new(false, true);
        Gen.OneOf(Bytes.Array[4, 40], Gen.String[2, 20].Select(Encoding.UTF8.GetBytes).Where(b => b.Length >= 4))
            .Where(bytes => FileInspection.Read(new MemoryStream(bytes)) is { MarkLength: 0 })
            .Sample(
                bytes =>
                {
                    FileInspection inspection = FileInspection.Read(new PartedStream(bytes));
                    bool valid = IsValid(strict, bytes);
                    return valid == (inspection.BadLine == 0) && (valid || inspection.BadByte >= 0x80) && inspection.Bytes == bytes.Length;
                },
                iter: 3000);
    }

    [Fact]
    public void The_line_of_the_first_bad_byte_is_counted_across_parts()
    {
        byte[] bytes = [.. "a\nb\nc\nü"u8, 0xE9, (byte)'\n'];
        FileInspection inspection = FileInspection.Read(new PartedStream(bytes));
        Assert.Equal((4, (byte)0xE9), (inspection.BadLine, inspection.BadByte));
    }

    private static bool IsValid(UTF8Encoding strict, byte[] bytes)
    {
        try
        {
            strict.GetString(bytes);
            return true;
        }
        catch (DecoderFallbackException)
        {
            return false;
        }
    }

    /// <summary>Hands out one byte at a time.</summary>
    private sealed class PartedStream(byte[] bytes) : MemoryStream(bytes)
    {
        public override int Read(Span<byte> buffer) => base.Read(buffer.Length == 0 ? buffer : buffer[..1]);

        public override int Read(byte[] buffer, int offset, int count) => base.Read(buffer, offset, Math.Min(count, 1));
    }
}
