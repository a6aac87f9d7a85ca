using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Unicode;

namespace RotationStudy.Report.Record;

/// <summary>An entry of the chain. Its hash covers the hash of the entry before, so that no entry can be changed, moved or taken out unseen.</summary>
/// <param name="Number">Position, from 1.</param>
/// <param name="Kind">What it is about.</param>
/// <param name="Facts">What it says.</param>
/// <param name="Previous">Hash of the entry before; zeros for the first.</param>
/// <param name="Hash">SHA-256 over the line of the entry as it is written, with an empty hash.</param>
public sealed record ChainEntry(int Number, string Kind, ImmutableSortedDictionary<string, string> Facts, string Previous, string Hash)
{
    /// <summary>Where the chain begins.</summary>
    internal static string Beginning { get; } = new('0', 64);

    private static readonly ChainJsonContext Json = new(new JsonSerializerOptions(ChainJsonContext.Default.Options)
    {
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
    });

    /// <summary>An entry after another.</summary>
    internal static ChainEntry After(ChainEntry? last, string kind, params ReadOnlySpan<(string Key, string Value)> facts)
    {
        ImmutableSortedDictionary<string, string>.Builder said = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        foreach ((string key, string value) in facts)
            said.Add(key, value);
        ChainEntry entry = new((last?.Number ?? 0) + 1, kind, said.ToImmutable(), last?.Hash ?? Beginning, "");
        return entry with { Hash = entry.RightHash };
    }

    /// <summary>The hash that belongs to what the entry says.</summary>
    internal string RightHash => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes((this with { Hash = "" }).Line)));

    /// <summary>The entry as one line of JSON.</summary>
    internal string Line => JsonSerializer.Serialize(this, Json.ChainEntry);

    /// <summary>An entry from its line; null when the line is no entry.</summary>
    internal static ChainEntry? Read(string line)
    {
        try
        {
            return JsonSerializer.Deserialize(line, Json.ChainEntry) is { } entry
                ? entry with { Facts = entry.Facts.WithComparers(StringComparer.Ordinal) }
                : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }

    /// <summary>A fact; empty when the entry does not state it.</summary>
    internal string Fact(string key) => Facts.GetValueOrDefault(key, "");
}

/// <summary>The serializer's code, made at build time; one entry is one line.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    WriteIndented = false)]
[JsonSerializable(typeof(ChainEntry))]
internal sealed partial class ChainJsonContext : JsonSerializerContext;
