using System.Text.Encodings.Web;
using System.Text.Json;

namespace RotationStudy.Simulation.Exports;

/// <summary>The text of a file that says what is true of made-up data.</summary>
internal static class TruthText
{
    /// <summary>How every such file begins.</summary>
    internal const string Note = "Invented data. No person, clinic or data set is described.";

    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    internal static byte[] Of<T>(T content) => [.. JsonSerializer.SerializeToUtf8Bytes(content, Options), (byte)'\n'];
}
