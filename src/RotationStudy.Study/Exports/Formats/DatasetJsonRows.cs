using System.Text;
using System.Text.Json;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Rows of a dataset in CDISC Dataset-JSON 1.1: names under "columns", rows as arrays under "rows".</summary>
/// <remarks>The open standard of the Clinical Data Interchange Standards Consortium, version 1.1 (2024).</remarks>
internal sealed class DatasetJsonRows : RowSource
{
    private const int Deepest = 16;

    private readonly byte[] json;
    private readonly byte[][] cells;
    private int position;
    private JsonReaderState state;
    private int line;
    private int count;

    private DatasetJsonRows(byte[] json)
    {
        this.json = json;
        (string[] names, position, state) = Inspect(json);
        Header = names;
        cells = new byte[names.Length][];
    }

    internal override IReadOnlyList<string> Header { get; }

    internal override int Line => line;

    internal override int Cells => count;

    internal static DatasetJsonRows Open(Stream stream)
    {
        using MemoryStream whole = new();
        stream.CopyTo(whole);
        stream.Dispose();
        byte[] json = whole.ToArray();
        return Guarded(() => new DatasetJsonRows(json.AsSpan().StartsWith(Encoding.UTF8.Preamble) ? json[3..] : json));
    }

    internal override bool Read() => Guarded(() =>
    {
        Utf8JsonReader reader = new(json.AsSpan(position), isFinalBlock: true, state);
        reader.Read();
        if (reader.TokenType == JsonTokenType.EndArray)
            return false;
        if (reader.TokenType != JsonTokenType.StartArray)
            throw new UnreadableFileException($"record {line + 1} is no list of values");
        line++;
        for (count = 0; reader.Read() && reader.TokenType != JsonTokenType.EndArray; count++)
        {
            byte[] cell = Value(ref reader);
            if (count < cells.Length)
                cells[count] = cell;
        }
        position += (int)reader.BytesConsumed;
        state = reader.CurrentState;
        return true;
    });

    internal override ReadOnlySpan<byte> Cell(int position) => cells[position];

    public override void Dispose()
    {
    }

    private static byte[] Value(ref Utf8JsonReader reader) => reader.TokenType switch
    {
        JsonTokenType.Null => [],
        JsonTokenType.String => Encoding.UTF8.GetBytes(reader.GetString()!),
        JsonTokenType.Number => reader.ValueSpan.ToArray(),
        JsonTokenType.True => "true"u8.ToArray(),
        JsonTokenType.False => "false"u8.ToArray(),
        _ => throw new UnreadableFileException("a record holds a list or a group where one value is expected"),
    };

    // Finds the names and the first record; the order of the two in the file does not matter.
    private static (string[] Names, int Position, JsonReaderState State) Inspect(byte[] json)
    {
        Utf8JsonReader reader = new(json, new JsonReaderOptions { MaxDepth = Deepest });
        string[]? names = null;
        (int Position, JsonReaderState State)? rows = null;
        if (!reader.Read() || reader.TokenType != JsonTokenType.StartObject)
            throw new UnreadableFileException("it is no dataset in Dataset-JSON 1.1");
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            string key = reader.GetString()!;
            reader.Read();
            if (key == "datasetJSONVersion" && !(reader.GetString() ?? string.Empty).StartsWith("1.1", StringComparison.Ordinal))
                throw new UnreadableFileException($"it is written in version {reader.GetString()} of Dataset-JSON; version 1.1 is read");
            if (key == "rows" && reader.TokenType == JsonTokenType.StartArray)
                rows = ((int)reader.BytesConsumed, reader.CurrentState);
            if (key == "columns" && reader.TokenType == JsonTokenType.StartArray)
                names = Names(ref reader);
            else
                reader.Skip();
        }
        if (names is null || names.Length == 0)
            throw new UnreadableFileException("it has no list of columns, as Dataset-JSON 1.1 has");
        return rows is { } found ? (names, found.Position, found.State) : throw new UnreadableFileException("it has no list of rows, as Dataset-JSON 1.1 has");
    }

    private static string[] Names(ref Utf8JsonReader reader)
    {
        List<string> names = [];
        while (reader.Read() && reader.TokenType == JsonTokenType.StartObject)
        {
            string? name = null;
            while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
            {
                bool wanted = reader.ValueTextEquals("name"u8);
                reader.Read();
                if (wanted)
                    name = reader.GetString();
                else
                    reader.Skip();
            }
            names.Add(name?.Trim() ?? throw new UnreadableFileException($"its column {names.Count + 1} has no name"));
        }
        return [.. names];
    }

    private static T Guarded<T>(Func<T> read)
    {
        try
        {
            return read();
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException or DecoderFallbackException)
        {
            throw new UnreadableFileException("it is no dataset in Dataset-JSON 1.1, or breaks off", e);
        }
    }
}
