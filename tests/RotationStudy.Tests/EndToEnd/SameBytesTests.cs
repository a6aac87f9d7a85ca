using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.EndToEnd;

/// <summary>The whole way from the demo export to the run folder gives the same bytes, whatever the machine around it does.</summary>
public sealed class SameBytesTests : Workspace
{
    [Fact]
    public void The_demo_twice_gives_identical_bytes_also_in_another_folder_and_culture()
    {
        Check(CommandLineRun.Of("demo", "--to", At("one")));
        CultureInfo before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo comma = (CultureInfo)CultureInfo.InvariantCulture.Clone();
            comma.NumberFormat.NumberDecimalSeparator = ",";
            comma.NumberFormat.NegativeSign = "~";
            CultureInfo.CurrentCulture = comma;
            Check(CommandLineRun.Of("demo", "--to", At("elsewhere", "two")));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
        Assert.Contains("report.html", Hashes("one").Keys);
        Assert.Contains("record.json", Hashes("one").Keys);
        Assert.Equal(Hashes("one"), Hashes(Path.Combine("elsewhere", "two")));
    }

    [Fact]
    public void The_order_of_rows_changes_no_answer()
    {
        Check(CommandLineRun.Of("study", Protocol, CopyExport(), "--to", At("one")));
        foreach (string file in Directory.EnumerateFiles(At("exports"), "*.csv").Select(f => Path.GetFileName(f)))
            Edit(file, lines => [lines[0], .. lines.Skip(1).OrderBy(Scrambled, StringComparer.Ordinal)]);
        Check(CommandLineRun.Of("study", Protocol, At("exports"), "--to", At("two")));
        SortedDictionary<string, string> one = Hashes("one"), two = Hashes("two");
        string[] answers = [.. one.Keys.Where(k => k is "results.csv" or "results.parquet" || k.StartsWith("figures/", StringComparison.Ordinal) || k.StartsWith("tables/", StringComparison.Ordinal))];
        Assert.Contains("results.csv", answers);
        Assert.All(answers, a => Assert.True(one[a] == two[a], $"{a} depends on the order of rows."));
    }

    private static string Scrambled(string line) => Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(line)));

    private static void Check(CommandLineRun run) => Assert.True(run.ExitCode == 0, $"exit code {run.ExitCode}: {run.Error}");

    private SortedDictionary<string, string> Hashes(string run)
        => new(Directory.EnumerateFiles(At(run), "*", SearchOption.AllDirectories).ToDictionary(
            f => Path.GetRelativePath(At(run), f).Replace('\\', '/'), f => Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(f)))), StringComparer.Ordinal);
}
