using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Unicode;
using RotationStudy.Report.Files;

namespace RotationStudy.Report.Audit;

/// <summary>Writes what a second run found: audit.html for people, audit.json for machines. Each appears whole or not at all.</summary>
public static class SecondRunFiles
{
    /// <summary>Name of the page.</summary>
    public const string Page = "audit.html";

    /// <summary>Name of the machine-readable file.</summary>
    public const string Machine = "audit.json";

    private static readonly SecondRunJsonContext Json = new(new JsonSerializerOptions(SecondRunJsonContext.Default.Options)
    {
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
        NewLine = "\n",
    });

    /// <summary>Writes both files.</summary>
    /// <param name="folder">Folder for them; made when missing.</param>
    /// <param name="run">What was found.</param>
    /// <exception cref="OutputError">A file could not be written.</exception>
    public static void Write(string folder, SecondRun run)
    {
        WriteAside(folder, Machine, [.. JsonSerializer.SerializeToUtf8Bytes(run, Json.SecondRun), (byte)'\n']);
        WriteAside(folder, Page, Encoding.UTF8.GetBytes(SecondRunPage.Write(run)));
    }

    private static void WriteAside(string folder, string name, byte[] content)
    {
        string path = Path.Combine(folder, name);
        try
        {
            Directory.CreateDirectory(folder);
            string aside = Path.Combine(folder, $".{name}.unfinished");
            File.WriteAllBytes(aside, content);
            File.Move(aside, path, overwrite: true);
        }
        catch (Exception fault) when (OutputError.Covers(fault))
        {
            throw OutputError.From(fault, path);
        }
    }
}

/// <summary>The serializer's code, made at build time.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
    WriteIndented = true)]
[JsonSerializable(typeof(SecondRun))]
internal sealed partial class SecondRunJsonContext : JsonSerializerContext;
