using System.Text;
using System.Text.Json;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Rows of a dataset in CDISC Dataset-JSON 1.1: names under "columns", rows as arrays under "rows".</summary>
/// <remarks>
/// The open standard of the Clinical Data Interchange Standards Consortium, version 1.1 (2024). The file is streamed: one look finds
/// the names and the first record, in either order, a second reads the records and whatever follows them to the end.
/// </remarks>
internal sealed class DatasetJsonRows : RowSource
{
    private readonly JsonText json;
    private readonly byte[][] cells;
    private int line;
    private int count;

    private DatasetJsonRows(Stream stream)
    {
        json = new JsonText(stream);
        (string[] names, JsonPlace rows) = Inspect();
        Header = names;
        cells = new byte[names.Length][];
        json.GoTo(rows);
    }

    internal override IReadOnlyList<string> Header { get; }

    protected internal override int Line => line;

    protected internal override int Cells => count;

    internal static DatasetJsonRows Open(Stream stream) => Guarded(() => new DatasetJsonRows(stream));

    protected internal override bool Read() => Guarded(() =>
    {
        json.Require();
        if (json.Type == JsonTokenType.EndArray)
        {
            ReadToTheEnd();
            return false;
        }
        if (json.Type != JsonTokenType.StartArray)
            throw new UnreadableFileException($"record {line + 1} is no list of values");
        line++;
        for (count = 0; json.Require() != JsonTokenType.EndArray; count++)
        {
            byte[] cell = Value();
            if (count < cells.Length)
                cells[count] = cell;
        }
        return true;
    });

    protected internal override ReadOnlySpan<byte> Cell(int position) => cells[position];

    public override void Dispose() => json.Dispose();

    private byte[] Value() => json.Type switch
    {
        JsonTokenType.Null => [],
        JsonTokenType.String => Encoding.UTF8.GetBytes(json.Text()),
        JsonTokenType.Number => json.Bytes(),
        JsonTokenType.True => "true"u8.ToArray(),
        JsonTokenType.False => "false"u8.ToArray(),
        _ => throw new UnreadableFileException("a record holds a list or a group where one value is expected"),
    };

    private void ReadToTheEnd()
    {
        while (json.Read())
        {
        }
    }

    // Finds the names and the first record; a file whose names come first is not read to its end here.
    private (string[] Names, JsonPlace Rows) Inspect()
    {
        string[]? names = null;
        JsonPlace? rows = null;
        if (json.Require() != JsonTokenType.StartObject)
            throw new UnreadableFileException("it is no dataset in Dataset-JSON 1.1");
        while ((names is null || rows is null) && json.Require() == JsonTokenType.PropertyName)
        {
            string key = json.Text();
            JsonTokenType value = json.Require();
            if (key == "datasetJSONVersion" && (value != JsonTokenType.String || !json.Text().StartsWith("1.1", StringComparison.Ordinal)))
                throw new UnreadableFileException($"it is written in version {(value == JsonTokenType.String ? json.Text() : "unknown")} of Dataset-JSON; version 1.1 is read");
            if (key == "rows" && value == JsonTokenType.StartArray)
            {
                rows = json.Here();
                if (names is not null)
                    break;
            }
            if (key == "columns" && value == JsonTokenType.StartArray)
                names = Names();
            else
                json.Skip();
        }
        if (names is null || names.Length == 0)
            throw new UnreadableFileException("it has no list of columns, as Dataset-JSON 1.1 has");
        return rows is { } found ? (names, found) : throw new UnreadableFileException("it has no list of rows, as Dataset-JSON 1.1 has");
    }

    private string[] Names()
    {
        List<string> names = [];
        while (json.Require() == JsonTokenType.StartObject)
        {
            string? name = null;
            while (json.Require() == JsonTokenType.PropertyName)
            {
                bool wanted = json.Text() == "name";
                if (json.Require() == JsonTokenType.String && wanted)
                    name = json.Text();
                else
                    json.Skip();
            }
            names.Add(name?.Trim() ?? throw new UnreadableFileException($"its column {names.Count + 1} has no name"));
        }
        return json.Type == JsonTokenType.EndArray ? [.. names] : throw new UnreadableFileException("its list of columns holds something else than columns");
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
