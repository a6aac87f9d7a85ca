namespace RotationStudy.Study.Archive;

/// <summary>An archive that cannot be used: which file, what is wrong, and the next step.</summary>
public sealed class ArchiveError(string path, string what, string hint, Exception? inner = null) : Exception($"{path}: {what} {hint}", inner)
{
    /// <summary>The file or folder.</summary>
    public string Path { get; } = path;

    /// <summary>What is wrong, one sentence.</summary>
    public string What { get; } = what;

    /// <summary>What to do next, one sentence.</summary>
    public string Hint { get; } = hint;
}
