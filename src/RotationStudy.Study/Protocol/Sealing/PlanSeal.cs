using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Unicode;

namespace RotationStudy.Study.Protocol.Sealing;

/// <summary>A plan as it was on a day: the files of the protocol with their text, under one hash.</summary>
/// <remarks>
/// It lies in the protocol folder as seal.json. The text is kept, not its hash alone, so that a later plan can be compared with it word by word.
/// The hash and the date are stated by the seal itself: deposited elsewhere (an ethics board, a registry), they show that it was not made later.
/// </remarks>
/// <param name="Dated">Date of the seal as the users state it, ISO.</param>
/// <param name="Sha256">Hash over the date and the names and hashes of the files.</param>
/// <param name="Files">The files, in ordinal order of name.</param>
public sealed record PlanSeal(string Dated, string Sha256, ImmutableArray<SealedFile> Files)
{
    /// <summary>Name of the file in a protocol folder.</summary>
    public const string FileName = "seal.json";

    private static readonly SealJsonContext Json = new(new JsonSerializerOptions(SealJsonContext.Default.Options)
    {
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
        NewLine = "\n",
    });

    /// <summary>Seals files.</summary>
    /// <param name="dated">The date that the user states.</param>
    /// <param name="files">Names and texts of the protocol's files.</param>
    public static PlanSeal Of(DateOnly dated, IEnumerable<(string Name, string Text)> files)
    {
        PlanSeal open = new(
            dated.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), string.Empty,
            [.. files.Select(f => new SealedFile(f.Name, Hash(f.Text), f.Text)).OrderBy(f => f.Name, StringComparer.Ordinal)]);
        return open with { Sha256 = open.RightHash };
    }

    /// <summary>Whether date, names and texts give the hashes that the seal states.</summary>
    public bool IsWhole => Sha256 == RightHash && Files.All(f => f.Sha256 == Hash(f.Text));

    /// <summary>The seal as a file.</summary>
    public byte[] Write() => [.. JsonSerializer.SerializeToUtf8Bytes(this, Json.PlanSeal), (byte)'\n'];

    /// <summary>A seal from its file; null when the bytes are no seal.</summary>
    internal static PlanSeal? Read(ReadOnlySpan<byte> utf8)
    {
        try
        {
            return JsonSerializer.Deserialize(utf8, Json.PlanSeal);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private string RightHash => Hash(Dated + "\n" + string.Concat(Files.Select(f => $"{f.Sha256}  {f.Name}\n")));

    private static string Hash(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
}

/// <summary>A file of a sealed plan.</summary>
/// <param name="Name">Name relative to the protocol folder.</param>
/// <param name="Sha256">Hash of the text as UTF-8 without a mark.</param>
/// <param name="Text">The text.</param>
public sealed record SealedFile(string Name, string Sha256, string Text);

/// <summary>The serializer's code, made at build time.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    WriteIndented = true)]
[JsonSerializable(typeof(PlanSeal))]
internal sealed partial class SealJsonContext : JsonSerializerContext;
