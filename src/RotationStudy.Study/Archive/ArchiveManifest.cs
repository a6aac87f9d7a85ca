using System.Collections.Immutable;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Unicode;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Archive;

/// <summary>What an archive holds and what it was made from; archive.json.</summary>
/// <param name="Form">Number of the form of archives; a program refuses one that it does not know.</param>
/// <param name="StudyId">Short name of the study.</param>
/// <param name="ProtocolVersion">Version of the protocol.</param>
/// <param name="ProgramVersion">Version of the program that checked the records.</param>
/// <param name="ProtocolSha256">One hash over the protocol's files.</param>
/// <param name="ProtocolFiles">Files of the protocol.</param>
/// <param name="ShapedBy">The parts of the protocol that decide what is in the records; a study from the archive must have the same.</param>
/// <param name="ExportFiles">Files of the export that was checked.</param>
/// <param name="Accounts">What became of every row of them.</param>
/// <param name="Withdrawn">Participants who withdrew consent and were removed.</param>
/// <param name="Tables">The tables, in the order of the protocol.</param>
/// <param name="Findings">The file of findings.</param>
internal sealed record ArchiveManifest(
    int Form,
    string StudyId,
    string ProtocolVersion,
    string ProgramVersion,
    string ProtocolSha256,
    ImmutableArray<FileHash> ProtocolFiles,
    ImmutableArray<FileHash> ShapedBy,
    ImmutableArray<FileHash> ExportFiles,
    ImmutableArray<RowAccount> Accounts,
    int Withdrawn,
    ImmutableArray<ArchivedTable> Tables,
    ArchivedTable Findings)
{
    /// <summary>Name of the manifest in the folder.</summary>
    internal const string FileName = "archive.json";

    /// <summary>The form that this program writes.</summary>
    internal const int CurrentForm = 1;

    private static readonly ManifestJsonContext Json = new(new JsonSerializerOptions(ManifestJsonContext.Default.Options)
    {
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
        NewLine = "\n",
    });

    /// <summary>All files beside the manifest itself.</summary>
    [JsonIgnore]
    internal IEnumerable<ArchivedTable> Files => [.. Tables, Findings];

    internal byte[] ToJson() => [.. JsonSerializer.SerializeToUtf8Bytes(this, Json.ArchiveManifest), (byte)'\n'];

    /// <summary>The manifest of these bytes.</summary>
    /// <exception cref="JsonException">They are no manifest of this form.</exception>
    internal static ArchiveManifest Of(ReadOnlySpan<byte> json)
        => JsonSerializer.Deserialize(json, Json.ArchiveManifest) ?? throw new JsonException("The file holds null.");
}

/// <summary>A Parquet file of an archive.</summary>
/// <param name="Table">Table it holds.</param>
/// <param name="File">Name in the folder.</param>
/// <param name="Rows">Rows.</param>
/// <param name="Sha256">SHA-256 of its bytes, lower-case hexadecimal.</param>
/// <param name="Bytes">Length in bytes.</param>
internal sealed record ArchivedTable(string Table, string File, int Rows, string Sha256, long Bytes);

/// <summary>The serializer's code, made at build time.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    IgnoreReadOnlyProperties = true,
    WriteIndented = true)]
[JsonSerializable(typeof(ArchiveManifest))]
internal sealed partial class ManifestJsonContext : JsonSerializerContext;
