using System.Text;
using System.Text.Json;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>The parts of a JSON file one after the other, through a window that moves over the file.</summary>
internal sealed class JsonText : IDisposable
{
    private const int Deepest = 16;
    private const int Window = 1 << 16;

    private readonly Stream stream;
    private byte[] buffer = new byte[Window];
    private long bufferStart;
    private int length;
    private int position;
    private bool atEnd;
    private JsonReaderState state = new(new JsonReaderOptions { MaxDepth = Deepest });
    private string? text;
    private int valueStart;
    private int valueLength;

    internal JsonText(Stream stream)
    {
        this.stream = stream;
        Fill();
        if (buffer.AsSpan(0, length).StartsWith(Encoding.UTF8.Preamble))
            position = Encoding.UTF8.Preamble.Length;
    }

    /// <summary>Kind of the part.</summary>
    internal JsonTokenType Type { get; private set; }

    /// <summary>Goes to the next part; false after the last.</summary>
    /// <exception cref="JsonException">The file is no JSON.</exception>
    /// <exception cref="UnreadableFileException">One value is longer than any value can be.</exception>
    internal bool Read()
    {
        while (true)
        {
            Utf8JsonReader reader = new(buffer.AsSpan(position, length - position), atEnd, state);
            if (reader.Read())
            {
                Take(ref reader);
                return true;
            }
            if (atEnd)
                return false;
            position += (int)reader.BytesConsumed;
            state = reader.CurrentState;
            Fill();
        }
    }

    /// <summary>Goes to the next part, which must be there.</summary>
    internal JsonTokenType Require() => Read() ? Type : throw new JsonException("The file breaks off.");

    /// <summary>The letters of a string or of a name.</summary>
    internal string Text() => text ?? string.Empty;

    /// <summary>The bytes of a number.</summary>
    internal byte[] Bytes() => buffer.AsSpan(valueStart, valueLength).ToArray();

    /// <summary>Goes to the end of the list or group that begins here.</summary>
    internal void Skip()
    {
        if (Type is not (JsonTokenType.StartArray or JsonTokenType.StartObject))
            return;
        for (int depth = 1; depth > 0;)
        {
            JsonTokenType next = Require();
            depth += next is JsonTokenType.StartArray or JsonTokenType.StartObject ? 1 : next is JsonTokenType.EndArray or JsonTokenType.EndObject ? -1 : 0;
        }
    }

    /// <summary>The place behind this part.</summary>
    internal JsonPlace Here() => new(bufferStart + position, state);

    /// <summary>Goes back to a place.</summary>
    internal void GoTo(JsonPlace place)
    {
        stream.Position = bufferStart = place.Offset;
        (position, length, atEnd, state) = (0, 0, false, place.State);
        Fill();
    }

    /// <inheritdoc/>
    public void Dispose() => stream.Dispose();

    private void Take(ref Utf8JsonReader reader)
    {
        Type = reader.TokenType;
        text = Type is JsonTokenType.String or JsonTokenType.PropertyName ? reader.GetString() : null;
        valueLength = reader.ValueSpan.Length;
        valueStart = position + (int)reader.BytesConsumed - valueLength;
        position += (int)reader.BytesConsumed;
        state = reader.CurrentState;
    }

    // Keeps what is not yet read and puts more behind it; a window that one value fills grows.
    private void Fill()
    {
        int left = length - position;
        buffer.AsSpan(position, left).CopyTo(buffer);
        bufferStart += position;
        (position, length) = (0, left);
        if (left == buffer.Length)
        {
            if (left >= CsvRows.LongestRow)
                throw new UnreadableFileException("one of its values is longer than any value can be");
            Array.Resize(ref buffer, buffer.Length * 4);
        }
        int got = stream.ReadAtLeast(buffer.AsSpan(length), buffer.Length - length, throwOnEndOfStream: false);
        length += got;
        atEnd = length < buffer.Length;
    }
}

/// <summary>A place in a JSON file.</summary>
/// <param name="Offset">Bytes before it.</param>
/// <param name="State">What the place is inside of.</param>
internal readonly record struct JsonPlace(long Offset, JsonReaderState State);
