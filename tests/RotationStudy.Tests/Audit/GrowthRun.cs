using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Audit;

/// <summary>A small study with published data (27 children, four visits), carried out once, to be audited.</summary>
public sealed class GrowthRun : IDisposable
{
    private static readonly string Shipped = Path.Combine(Repository.Root, "protocols", "growth-example");

    /// <summary>Carries the study out.</summary>
    public GrowthRun()
    {
        Folder = Directory.CreateTempSubdirectory("rotationstudy-").FullName;
        CommandLineRun done = CommandLineRun.Of("study", Shipped, Exports, "--to", Run, "--quiet");
        Assert.True(done.ExitCode == 0, done.Error);
    }

    internal static string Exports { get; } = Path.Combine(Shipped, "example-exports");

    internal static string Protocol => Shipped;

    /// <summary>Where tests may write.</summary>
    internal string Folder { get; }

    /// <summary>The run; not to be changed.</summary>
    internal string Run => Path.Combine(Folder, "run");

    /// <summary>A copy of the run, to be changed.</summary>
    internal string CopyOfRun(string name) => Copy(Run, Path.Combine(Folder, name));

    /// <summary>An export with other rows.</summary>
    internal string ExportsWith(string name, Func<string[], IEnumerable<string>> rows)
    {
        string folder = Directory.CreateDirectory(Path.Combine(Folder, name)).FullName;
        string[] lines = File.ReadAllLines(Path.Combine(Exports, "growth.csv"));
        File.WriteAllText(Path.Combine(folder, "growth.csv"), string.Concat(rows(lines[1..]).Prepend(lines[0]).Select(l => l + "\n")));
        return folder;
    }

    /// <summary>Removes what was written.</summary>
    public void Dispose() => Directory.Delete(Folder, recursive: true);

    internal static string Copy(string from, string to)
    {
        foreach (string file in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            string copy = Path.Combine(to, Path.GetRelativePath(from, file));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(file, copy);
        }
        return to;
    }
}
