using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Archive;

/// <summary>What somebody must know who reads a table of an archive with another program: units, descriptions, codes, ranges.</summary>
/// <remarks>Stands as text under plain names in the footer of the file; the columns as JSON under <see cref="Columns"/>.</remarks>
internal static class TableMetadata
{
    internal const string Columns = "columns";

    /// <summary>Stands in the file of the table that lists the participants.</summary>
    internal const string Roster = "is_roster";

    internal const string ExportFile = "export_file";

    private const string Reason = "missing_because";

    private static readonly JsonSerializerOptions Json = new() { Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    internal static Dictionary<string, string> Of(TableDefinition table, StudyProtocol protocol, Func<ColumnDefinition, string> reasonColumn)
    {
        Dictionary<string, string> about = General(table, protocol);
        if (table.IsRoster)
            about[Roster] = "true";
        about[Columns] = new JsonArray([.. table.Columns.Select(c => About(c, reasonColumn(c)))]).ToJsonString(Json);
        return about;
    }

    private static Dictionary<string, string> General(TableDefinition table, StudyProtocol protocol) => new()
    {
        ["study"] = protocol.Study.Id,
        ["study_title"] = protocol.Study.Title,
        ["protocol_version"] = protocol.Study.Version,
        ["protocol_sha256"] = FileHash.OfAll(protocol.Files),
        ["table"] = table.Name,
        ["label"] = table.Label,
        [ExportFile] = table.File,
        ["key"] = string.Join(", ", table.Key),
    };

    /// <summary>The column of participants of a file; null where it has none.</summary>
    internal static string? ParticipantColumn(ArchiveFile file)
        => (string?)ColumnsOf(file).FirstOrDefault(c => (string?)c?["role"] == Word(ColumnRole.Participant))?["name"];

    /// <summary>Names of the columns that say why a value is missing.</summary>
    internal static ImmutableArray<string> ReasonColumns(ArchiveFile file) => [.. ColumnsOf(file).Select(c => (string?)c?[Reason]).OfType<string>()];

    private static JsonArray ColumnsOf(ArchiveFile file)
        => file.About.TryGetValue(Columns, out string? columns) && JsonNode.Parse(columns) is JsonArray all ? all : [];

    private static JsonObject About(ColumnDefinition column, string reasonColumn)
    {
        JsonObject about = new()
        {
            ["name"] = column.Name,
            ["label"] = column.Label,
            ["type"] = Word(column.Type),
            ["role"] = Word(column.Role),
            [Reason] = reasonColumn,
        };
        if (column.Unit is { } unit)
            about["unit"] = unit;
        if (column.Method is { } method)
            about["method"] = method;
        if (column.Source is { } source)
            about["source"] = source;
        if (column.Possible is { } possible)
            about["possible"] = new JsonArray(possible.Lowest, possible.Highest);
        if (column.Plausible is { } plausible)
            about["plausible"] = new JsonArray(plausible.Lowest, plausible.Highest);
        if (!column.Codes.IsEmpty)
            about["codes"] = Meanings(column.Codes);
        if (!column.MissingCodes.IsEmpty)
            about["missing_codes"] = Meanings(column.MissingCodes);
        return about;
    }

    private static JsonObject Meanings(IEnumerable<CodeDefinition> codes)
        => new(codes.Select(c => KeyValuePair.Create(c.Code, (JsonNode?)JsonValue.Create(c.Meaning))));

    private static string Word<T>(T value)
        where T : struct, Enum
        => JsonNamingPolicy.SnakeCaseLower.ConvertName(value.ToString());
}
