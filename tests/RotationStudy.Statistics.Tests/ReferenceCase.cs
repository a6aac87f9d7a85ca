using System.Globalization;
using System.Text.Json;

namespace RotationStudy.Statistics.Tests;

/// <summary>A folder under ReferenceData: data.csv, expected.json and SOURCE.md (where the digits come from).</summary>
internal sealed class ReferenceCase
{
    private readonly Dictionary<string, string[]> columns = [];

    private ReferenceCase(string folder)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "expected.json")));
        Expected = document.RootElement.Clone();
        string data = Path.Combine(folder, "data.csv");
        if (!File.Exists(data))
            return;
        string[] lines = File.ReadAllLines(data);
        string[] header = lines[0].Split(',');
        string[][] rows = [.. lines[1..].Where(l => l.Length > 0).Select(l => l.Split(','))];
        for (int j = 0; j < header.Length; j++)
            columns[header[j].Trim('"')] = [.. rows.Select(r => r[j].Trim('"'))];
    }

    /// <summary>The content of expected.json.</summary>
    internal JsonElement Expected { get; }

    internal static ReferenceCase Read(string relative) => new(RepositoryFiles.ReferenceData(relative));

    /// <summary>A numeric column of data.csv; empty or NA cells become NaN.</summary>
    internal double[] Column(string name)
        => [.. columns[name].Select(t => t is "" or "NA" ? double.NaN : double.Parse(t, NumberStyles.Float, CultureInfo.InvariantCulture))];

    /// <summary>A column of data.csv as text.</summary>
    internal string[] Text(string name) => columns[name];

    /// <summary>A number at a path of property names and array positions, such as "cases/0/coef/age".</summary>
    internal double Number(string path) => Element(path).GetDouble();

    /// <summary>An element at a path; a property "id" of a list's members may stand for its position.</summary>
    internal JsonElement Element(string path)
    {
        JsonElement at = Expected;
        foreach (string step in path.Split('/'))
        {
            at = at.ValueKind == JsonValueKind.Array
                ? int.TryParse(step, NumberStyles.None, CultureInfo.InvariantCulture, out int index)
                    ? at[index]
                    : at.EnumerateArray().First(e => e.GetProperty("id").GetString() == step)
                : at.GetProperty(step);
        }
        return at;
    }
}
