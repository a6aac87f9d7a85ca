namespace RotationStudy.Tests.Cli;

/// <summary>A temporary folder with a copy of the demo export and protocol, to be damaged at will.</summary>
public abstract class Workspace : IDisposable
{
    private static readonly string Demo = Path.Combine(Repository.Root, "synthetic-data", "demo");

    /// <summary>The shipped protocol.</summary>
    protected static string Protocol { get; } = Path.Combine(Repository.Root, "protocols", "patellar-instability");

    /// <summary>The folder.</summary>
    protected string Root { get; } = Directory.CreateTempSubdirectory("rotationstudy-").FullName;

    /// <summary>Removes the folder.</summary>
    public void Dispose()
    {
        Directory.Delete(Root, recursive: true);
        GC.SuppressFinalize(this);
    }

    /// <summary>A path in the folder.</summary>
    protected string At(params string[] parts) => Path.Combine([Root, .. parts]);

    /// <summary>Copies the demo export.</summary>
    protected string CopyExport() => Copy(Demo, "exports");

    /// <summary>Copies the protocol.</summary>
    protected string CopyProtocol() => Copy(Protocol, "protocol");

    /// <summary>Changes the lines of a file of the copied export.</summary>
    protected void Edit(string file, Func<string[], IEnumerable<string>> change)
    {
        string path = At("exports", file);
        File.WriteAllText(path, string.Join('\n', change(File.ReadAllLines(path))) + "\n");
    }

    private string Copy(string from, string to)
    {
        Directory.CreateDirectory(At(to));
        foreach (string file in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            string copy = At(to, Path.GetRelativePath(from, file));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(file, copy);
        }
        return At(to);
    }
}
