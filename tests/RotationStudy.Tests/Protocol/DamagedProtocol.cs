using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Protocol;

/// <summary>A copy of a shipped protocol in which a test changes one place.</summary>
internal sealed class DamagedProtocol : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("rotationstudy-protocol-").FullName;

    internal DamagedProtocol(string name = "patellar-instability")
    {
        string source = Path.Combine(Repository.Root, "protocols", name);
        foreach (string path in Directory.EnumerateFiles(source, "*.yaml", SearchOption.AllDirectories))
        {
            string copy = Path.Combine(folder, Path.GetRelativePath(source, path));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(path, copy);
        }
    }

    internal string Folder => folder;

    /// <summary>Replaces the first occurrence of a text, which must be there.</summary>
    internal DamagedProtocol Replace(string file, string old, string with)
    {
        string text = Text(file);
        int at = text.IndexOf(old, StringComparison.Ordinal);
        Assert.True(at >= 0, $"'{old}' is not in {file}; the test needs a new place to damage.");
        File.WriteAllText(Path.Combine(folder, file), string.Concat(text.AsSpan(0, at), with, text.AsSpan(at + old.Length)));
        return this;
    }

    internal DamagedProtocol Delete(string file)
    {
        File.Delete(Path.Combine(folder, file));
        return this;
    }

    /// <summary>Where the first occurrence of a text stands.</summary>
    internal Place PlaceOf(string file, string fragment, int skip = 0)
    {
        string text = Text(file);
        int at = text.IndexOf(fragment, StringComparison.Ordinal) + skip;
        string before = text[..at];
        return new Place(file, 1 + before.Count(c => c == '\n'), at - before.LastIndexOf('\n'));
    }

    internal IReadOnlyList<ProtocolFault> Faults() => Assert.Throws<ProtocolError>(() => ProtocolReader.Read(folder)).Faults;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private string Text(string file) => File.ReadAllText(Path.Combine(folder, file));
}
