using System.Text.RegularExpressions;

namespace RotationStudy.Tests.Simulation;

/// <summary>docs/course-model.md gives every parameter of the shipped scenarios with its value and source.</summary>
public partial class CourseModelDocumentTests
{
    [Fact]
    public void Every_parameter_of_the_demo_scenario_stands_in_the_document_with_value_and_source()
    {
        List<string> rows = [];
        string section = string.Empty;
        foreach (string line in Lines("demo-scenario.yaml"))
        {
            if (Section().Match(line) is { Success: true } head)
                section = head.Groups[1].Value;
            else if (Parameter().Match(line) is { Success: true } p)
                rows.Add($"| `{section}.{p.Groups[1].Value}` | {p.Groups[2].Value} | {p.Groups[3].Value} |");
            else if (Item().Match(line) is { Success: true } item)
                rows.Add($"| `{section}: {item.Groups[1].Value}` | {item.Groups[2].Value} | {item.Groups[3].Value} |");
        }
        Assert.True(rows.Count > 150, $"{rows.Count} rows");
        AssertDocumented(rows);
    }

    [Fact]
    public void Every_parameter_of_the_rater_scenario_does_too()
        => AssertDocumented([.. Lines("rater-scenario.yaml").Select(l => TopParameter().Match(l)).Where(m => m.Success)
            .Select(m => $"| `raters.{m.Groups[1].Value}` | {m.Groups[2].Value} | {m.Groups[3].Value} |")]);

    private static void AssertDocumented(List<string> rows)
    {
        string document = File.ReadAllText(Path.Combine(Repository.Root, "docs", "course-model.md"));
        string[] missing = [.. rows.Where(r => !document.Contains(r, StringComparison.Ordinal))];
        Assert.True(missing.Length == 0, "Put into docs/course-model.md:\n" + string.Join('\n', missing));
    }

    private static IEnumerable<string> Lines(string file) => File.ReadLines(Path.Combine(Repository.Root, "synthetic-data", file));

    [GeneratedRegex(@"^(\w+):\s*$")]
    private static partial Regex Section();

    [GeneratedRegex(@"^  (\w+): (.+?)\s+# (.+)$")]
    private static partial Regex Parameter();

    [GeneratedRegex(@"^ +- \{ \w+: (\w+), (.+) \}\s+# (.+)$")]
    private static partial Regex Item();

    [GeneratedRegex(@"^(\w+): (.+?)\s+# (.+)$")]
    private static partial Regex TopParameter();
}
