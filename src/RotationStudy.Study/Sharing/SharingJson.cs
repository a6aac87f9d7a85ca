using System.Security.Cryptography;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Unicode;

namespace RotationStudy.Study.Sharing;

/// <summary>The files that sites exchange as JSON and back. Reading is strict; numbers read back to the same bits.</summary>
public static class SharingJson
{
    internal const string ShareFormat = "rotationstudy site share";
    internal const string RequestFormat = "rotationstudy site request";
    internal const int Version = 1;

    private static readonly SharingJsonContext Json = new(new JsonSerializerOptions(SharingJsonContext.Default.Options)
    {
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
        NewLine = "\n",
    });

    /// <summary>A site's file as UTF-8.</summary>
    public static byte[] Write(SiteShare share) => [.. JsonSerializer.SerializeToUtf8Bytes(share, Json.SiteShare), (byte)'\n'];

    /// <summary>A request as UTF-8.</summary>
    public static byte[] Write(SiteRequest request) => [.. JsonSerializer.SerializeToUtf8Bytes(request, Json.SiteRequest), (byte)'\n'];

    /// <summary>A site's file.</summary>
    /// <param name="utf8">Its bytes.</param>
    /// <param name="name">Its name, for the words of a refusal.</param>
    /// <exception cref="SharingRefusal">It is no such file, or of another version.</exception>
    public static SiteShare ReadShare(ReadOnlySpan<byte> utf8, string name)
    {
        SiteShare share = Read(utf8, name, "a site's share", Json.SiteShare);
        Require(share.Format, ShareFormat, share.Version, name);
        return share;
    }

    /// <summary>A request.</summary>
    /// <param name="utf8">Its bytes.</param>
    /// <param name="name">Its name, for the words of a refusal.</param>
    /// <exception cref="SharingRefusal">It is no such file, or of another version.</exception>
    public static SiteRequest ReadRequest(ReadOnlySpan<byte> utf8, string name)
    {
        SiteRequest request = Read(utf8, name, "a request", Json.SiteRequest);
        Require(request.Format, RequestFormat, request.Version, name);
        return request;
    }

    /// <summary>The hash by which a share names the request that it answers.</summary>
    public static string Hash(ReadOnlySpan<byte> utf8) => Convert.ToHexStringLower(SHA256.HashData(utf8));

    private static T Read<T>(ReadOnlySpan<byte> utf8, string name, string what, System.Text.Json.Serialization.Metadata.JsonTypeInfo<T> type)
        where T : class
    {
        try
        {
            return JsonSerializer.Deserialize(utf8, type) ?? throw new JsonException("it holds null.");
        }
        catch (JsonException fault)
        {
            throw new SharingRefusal($"{name} is not {what}: {fault.Message}", "Ask its sender for the file as the program wrote it.", fault);
        }
    }

    private static void Require(string format, string expected, int version, string name)
    {
        if (format != expected)
            throw new SharingRefusal($"{name} calls itself '{format}', not '{expected}'.", "Give the files in their places.");
        if (version != Version)
            throw new SharingRefusal($"{name} is of version {version} of the format; this program reads version {Version}.", "All sites must use the same release.");
    }
}

/// <summary>The serializer's code, made at build time.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    UseStringEnumConverter = true,
    WriteIndented = true)]
[JsonSerializable(typeof(SiteShare))]
[JsonSerializable(typeof(SiteRequest))]
internal sealed partial class SharingJsonContext : JsonSerializerContext;
