using RotationStudy.Report.Files;

namespace RotationStudy.Report.Record;

/// <summary>A folder of checked records in the making: its files gather in a hidden sibling and move into place together.</summary>
/// <remarks>Until <see cref="Complete"/> returns, what lay there before is intact, as with <see cref="RunFolder"/>; so it is after a kill.</remarks>
public sealed class ArchiveFolder : IDisposable
{
    private const string LastFile = "archive.json";

    private readonly RunPlace _place;

    private ArchiveFolder(RunPlace place) => _place = place;

    /// <summary>The final path, absolute.</summary>
    public string FullPath => _place.Final;

    /// <summary>Begins an archive in that place.</summary>
    /// <param name="path">The folder; made when missing, with its parents.</param>
    /// <param name="overwrite">Whether an archive in that place may be replaced. A folder that is no archive never is.</param>
    /// <exception cref="OutputError">The place is taken, in use, or cannot be written to.</exception>
    public static ArchiveFolder Open(string path, bool overwrite) => new(RunPlace.Take(path, overwrite, LastFile, "archive"));

    /// <summary>Writes a file and sees it onto the disk.</summary>
    /// <param name="name">Its name in the folder.</param>
    /// <param name="fill">Fills it; the stream can be read back.</param>
    /// <exception cref="OutputError">The file could not be written.</exception>
    public void Write(string name, Action<Stream> fill)
    {
        try
        {
            using FileStream stream = new(Path.Combine(_place.Unfinished, name), FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None);
            fill(stream);
            stream.Flush(flushToDisk: true);
        }
        catch (Exception fault) when (OutputError.Covers(fault))
        {
            throw OutputError.From(fault, Path.Combine(_place.Final, name));
        }
    }

    /// <summary>Moves the folder into place.</summary>
    /// <exception cref="OutputError">It could not be moved; what was there before is still there.</exception>
    public void Complete() => _place.MoveIntoPlace();

    /// <summary>Lets go of the place; without <see cref="Complete"/> all that was written is discarded.</summary>
    public void Dispose() => _place.Dispose();
}
