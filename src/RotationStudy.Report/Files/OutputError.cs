namespace RotationStudy.Report.Files;

/// <summary>Why nothing could be written.</summary>
public enum OutputFault
{
    /// <summary>A finished run lies there already.</summary>
    RunExists,

    /// <summary>Something lies there that is no run of this program.</summary>
    NotARun,

    /// <summary>Another run is writing into the same folder.</summary>
    InUse,

    /// <summary>The place may not be written to.</summary>
    ReadOnly,

    /// <summary>There is no room.</summary>
    DiskFull,

    /// <summary>The path cannot be a folder.</summary>
    BadPath,

    /// <summary>Another fault of the file system.</summary>
    Other,
}

/// <summary>Results that could not be written: what, where, and the next step. An earlier run in that place is intact.</summary>
public sealed class OutputError(OutputFault fault, string path, string what, string hint, Exception? inner = null)
    : Exception($"{path}: {what} {hint}", inner)
{
    private const int NoSpace = 28, ReadOnlyFileSystem = 30, QuotaExceeded = 122, NotADirectory = 20, NameTooLong = 36;
    private const int WindowsDiskFull = unchecked((int)0x80070070);

    /// <summary>Why.</summary>
    public OutputFault Fault { get; } = fault;

    /// <summary>The file or folder.</summary>
    public string Path { get; } = path;

    /// <summary>What is wrong, one sentence.</summary>
    public string What { get; } = what;

    /// <summary>What to do next, one sentence.</summary>
    public string Hint { get; } = hint;

    /// <summary>The typed error for a fault of the file system.</summary>
    internal static OutputError From(Exception fault, string path) => fault switch
    {
        UnauthorizedAccessException or IOException { HResult: ReadOnlyFileSystem } => new(OutputFault.ReadOnly, path,
            "This place may not be written to.", "Choose another folder with --to, or ask for the right to write here.", fault),
        IOException { HResult: NoSpace or QuotaExceeded or WindowsDiskFull } => new(OutputFault.DiskFull, path,
            "There is no room left to write.", "Free some space, or choose a folder on another disk.", fault),
        IOException { HResult: NotADirectory or NameTooLong } or ArgumentException or NotSupportedException or PathTooLongException
            => new(OutputFault.BadPath, path, "This path cannot be a folder.", "Look at the path for a file in the place of a folder, or a name that is too long.", fault),
        _ => new(OutputFault.Other, path, $"Writing failed: {fault.Message}", "Look at the disk and try again.", fault),
    };

    /// <summary>Whether a fault belongs to the file system and so becomes an <see cref="OutputError"/>.</summary>
    internal static bool Covers(Exception fault)
        => fault is IOException or UnauthorizedAccessException or NotSupportedException;
}
