using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Runtime.InteropServices;
using System.Security.Cryptography;
using System.Text;

namespace RotationStudy.Study.Trace;

/// <summary>A hash over values in their order. Each part is preceded by its length, so that no two contents run together.</summary>
/// <remarks>SHA-256; text as UTF-8, numbers as the bits of the processor, which is little-endian wherever .NET runs today.</remarks>
internal sealed class ContentHash : IDisposable
{
    private readonly IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);

    internal ContentHash Add(string? text)
    {
        if (text is null)
            return Length(-1);
        Length(text.Length);
        hash.AppendData(Encoding.UTF8.GetBytes(text));
        return this;
    }

    internal ContentHash Add(IReadOnlyCollection<string> texts)
    {
        Length(texts.Count);
        foreach (string text in texts)
            Add(text);
        return this;
    }

    internal ContentHash Add<T>(ImmutableArray<T> values)
        where T : unmanaged
    {
        Length(values.Length);
        hash.AppendData(MemoryMarshal.AsBytes(values.AsSpan()));
        return this;
    }

    internal string Finish() => Convert.ToHexStringLower(hash.GetHashAndReset());

    public void Dispose() => hash.Dispose();

    private ContentHash Length(int length)
    {
        Span<byte> bytes = stackalloc byte[sizeof(int)];
        BinaryPrimitives.WriteInt32LittleEndian(bytes, length);
        hash.AppendData(bytes);
        return this;
    }
}
