using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace RotationStudy.Tests.Architecture;

/// <summary>Rules that the text of the source keeps. Each failure says file, rule and remedy.</summary>
public partial class SourceRulesTests
{
    private const int LongestFile = 300;

    /// <summary>Files that may be longer, each with the reason; none today.</summary>
    private static readonly Dictionary<string, string> ExcusedLength = [];

    private static readonly Dictionary<string, string[]> AllowedPackages = new()
    {
        ["RotationStudy.Statistics"] = ["MathNet.Numerics"],
        ["RotationStudy.Study"] = ["CsvHelper", "ExcelDataReader", "Microsoft.Data.Analysis", "Parquet.Net", "SpreadCheetah", "YamlDotNet"],
        ["RotationStudy.Simulation"] = ["MathNet.Numerics", "YamlDotNet"],
        ["RotationStudy.Report"] = ["DocumentFormat.OpenXml", "PDFsharp", "Parquet.Net", "ScottPlot"],
        ["RotationStudy.Cli"] = ["Spectre.Console", "System.CommandLine"],
    };

    private static readonly string Src = Path.Combine(Repository.Root, "src");

    [Fact]
    public void No_source_file_is_longer_than_300_lines()
    {
        string[] offenders = [.. Sources(Src).Where(f => File.ReadLines(f).Count() > LongestFile).Select(Name).Where(f => !ExcusedLength.ContainsKey(f))];
        Assert.True(offenders.Length == 0, $"Longer than {LongestFile} lines: {string.Join(", ", offenders)}. Give each idea a file of its own.");
    }

    [Fact]
    public void Statistics_knows_no_knees()
        => AssertNone("RotationStudy.Statistics", Knees(), "Statistics says person, cluster, row or unit; move what is about knees to Study.");

    [Fact]
    public void Only_the_command_line_talks_to_the_console()
    {
        foreach (string project in AllowedPackages.Keys.Where(p => p != "RotationStudy.Cli"))
            AssertNone(project, ConsoleCall(), "Return a value or report progress; the command line prints.");
    }

    [Fact]
    public void The_made_up_cohort_never_calls_what_it_is_meant_to_test()
        => AssertNone("RotationStudy.Simulation", PipelineStage(), "The generator knows export columns and truth only; otherwise recovering the truth proves nothing.");

    [Fact]
    public void Each_package_is_used_only_in_the_project_that_may_know_it()
    {
        foreach ((string project, string[] allowed) in AllowedPackages)
        {
            IEnumerable<string> found = XDocument.Load(Path.Combine(Src, project, project + ".csproj")).Descendants("PackageReference")
                .Select(e => (string)e.Attribute("Include")!);
            Assert.Empty(found.Except(allowed).Select(p => $"{project} uses {p}"));
        }
    }

    [Fact]
    public void The_map_in_DEVELOPERS_names_every_folder_of_src_and_no_other()
    {
        string map = File.ReadAllText(Path.Combine(Repository.Root, "DEVELOPERS.md"));
        string[] mapped = [.. MapLine().Matches(map).Select(m => m.Groups[1].Value).Order(StringComparer.Ordinal)];
        string[] folders = [.. Sources(Src)
            .Select(f => Name(f)[..Name(f).LastIndexOf('/')].Replace("src/RotationStudy.", "", StringComparison.Ordinal))
            .Distinct().Where(d => d.Contains('/')).Order(StringComparer.Ordinal)];
        Assert.Equal(folders, mapped);
    }

    private static void AssertNone(string project, Regex forbidden, string remedy)
    {
        foreach (string file in Sources(Path.Combine(Src, project)))
        {
            int line = 0;
            foreach (string text in File.ReadLines(file))
            {
                line++;
                Assert.False(forbidden.IsMatch(text), $"{Name(file)}:{line}: '{forbidden.Match(text).Value}'. {remedy}");
            }
        }
    }

    private static IEnumerable<string> Sources(string folder)
        => Directory.EnumerateFiles(folder, "*.cs", SearchOption.AllDirectories)
            .Where(f => !Name(f).Contains("/obj/", StringComparison.Ordinal) && !Name(f).Contains("/bin/", StringComparison.Ordinal));

    private static string Name(string file) => Path.GetRelativePath(Repository.Root, file).Replace('\\', '/');

    [GeneratedRegex(@"\b(knee|patella|femur|tibia|participant|patient|visit|dislocation|clinic)s?\b", RegexOptions.IgnoreCase)]
    private static partial Regex Knees();

    [GeneratedRegex(@"\bConsole\.(Write|Out|Error|Read|In|Set|Cancel)\w*")]
    private static partial Regex ConsoleCall();

    [GeneratedRegex(@"RotationStudy\.(Statistics|Study\.(Measures|Analyses|Checks|Tables|Records|Results))")]
    private static partial Regex PipelineStage();

    [GeneratedRegex(@"^\| `([A-Z][A-Za-z]+/[A-Za-z/]+)` \|", RegexOptions.Multiline)]
    private static partial Regex MapLine();
}
