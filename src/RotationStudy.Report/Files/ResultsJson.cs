using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Unicode;
using RotationStudy.Report.Record;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Files;

/// <summary>Results as JSON and back: everything a report is made of, so that it can be rebuilt without computing again.</summary>
/// <remarks>
/// Keys are in snake_case and in the order of the records; lines end in LF; numbers are the shortest text that reads back
/// to the same bits; infinite interval ends are the strings "Infinity" and "-Infinity". Reading is strict: an unknown, missing or
/// null key is refused. What is read writes the same bytes again.
/// </remarks>
public static class ResultsJson
{
    private static readonly ReportJsonContext Json = new(new JsonSerializerOptions(ReportJsonContext.Default.Options)
    {
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
        NewLine = "\n",
    });

    /// <summary>The results as UTF-8 JSON with a closing line end.</summary>
    public static byte[] Write(StudyResults results) => WithLineEnd(JsonSerializer.SerializeToUtf8Bytes(results, Json.StudyResults));

    /// <summary>Results from JSON.</summary>
    /// <exception cref="JsonException">The bytes are not results as this version writes them; the message names the key.</exception>
    public static StudyResults Read(ReadOnlySpan<byte> utf8)
        => JsonSerializer.Deserialize(utf8, Json.StudyResults) ?? throw new JsonException("The file holds null, not results.");

    /// <summary>One answer, to be compared with that of another run.</summary>
    internal static byte[] Write(QuestionResult question) => JsonSerializer.SerializeToUtf8Bytes(question, Json.QuestionResult);

    internal static byte[] WriteRecord(RunRecord record) => WithLineEnd(JsonSerializer.SerializeToUtf8Bytes(record, Json.RunRecord));

    internal static RunRecord ReadRecord(ReadOnlySpan<byte> utf8)
        => JsonSerializer.Deserialize(utf8, Json.RunRecord) ?? throw new JsonException("The file holds null, not a run record.");

    private static byte[] WithLineEnd(byte[] json) => [.. json, (byte)'\n'];
}

/// <summary>The serializer's code, made at build time: no reflection at start-up.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    WriteIndented = true)]
[JsonSerializable(typeof(StudyResults))]
[JsonSerializable(typeof(RunRecord))]
internal sealed partial class ReportJsonContext : JsonSerializerContext;
