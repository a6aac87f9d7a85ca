using RotationStudy.Report.Files;

namespace RotationStudy.Report.Record;

/// <summary>The place of a run on disk: the final folder, its hidden siblings while a run is unfinished, and the lock that keeps others out.</summary>
internal sealed class RunPlace : IDisposable
{
    private readonly FileStream _lock;
    private readonly string _lastFile;
    private readonly string _noun;

    private RunPlace(string final, FileStream held, string lastFile, string noun)
    {
        Final = final;
        _lock = held;
        _lastFile = lastFile;
        _noun = noun;
    }

    /// <summary>Where the run shall lie.</summary>
    internal string Final { get; }

    /// <summary>Where files gather until then.</summary>
    internal string Unfinished => Sibling(Final, "unfinished");

    /// <summary>Where a replaced run waits until the new one has moved in.</summary>
    private string Previous => Sibling(Final, "previous");

    /// <summary>Takes the place, or says why not.</summary>
    /// <param name="path">Where the folder shall lie.</param>
    /// <param name="overwrite">Whether a finished one may be replaced.</param>
    /// <param name="lastFile">The file that is written last, by which a finished folder is known.</param>
    /// <param name="noun">What such a folder is called in messages.</param>
    internal static RunPlace Take(string path, bool overwrite, string lastFile = RunRecord.FileName, string noun = "run")
    {
        string final = path;
        try
        {
            final = Path.TrimEndingDirectorySeparator(Path.GetFullPath(path));
            string parent = Path.GetDirectoryName(final)
                ?? throw new OutputError(OutputFault.NotARun, final, $"The root of a disk cannot be a folder of a {noun}.", "Name a folder below it.");
            Directory.CreateDirectory(parent);
            RunPlace place = new(final, HoldLock(final, noun), lastFile, noun);
            try
            {
                place.Prepare(overwrite);
                return place;
            }
            catch
            {
                place._lock.Dispose();
                throw;
            }
        }
        catch (Exception fault) when (OutputError.Covers(fault) || fault is ArgumentException)
        {
            throw OutputError.From(fault, final);
        }
    }

    /// <summary>Moves what was gathered to the final path. On failure the earlier run is put back.</summary>
    internal void MoveIntoPlace()
    {
        try
        {
            bool replaces = Directory.Exists(Final);
            if (replaces)
                Directory.Move(Final, Previous);
            try
            {
                Directory.Move(Unfinished, Final);
            }
            catch when (replaces)
            {
                Directory.Move(Previous, Final);
                throw;
            }
            if (replaces)
                Directory.Delete(Previous, recursive: true);
        }
        catch (Exception fault) when (OutputError.Covers(fault))
        {
            throw OutputError.From(fault, Final);
        }
    }

    /// <summary>Discards what did not move and lets go of the lock.</summary>
    public void Dispose()
    {
        try
        {
            if (Directory.Exists(Unfinished))
                Directory.Delete(Unfinished, recursive: true);
        }
        catch (Exception fault) when (OutputError.Covers(fault))
        {
            // Left for the next run in this place, which clears it; the fault that led here matters more.
        }
        _lock.Dispose();
    }

    private void Prepare(bool overwrite)
    {
        if (!Directory.Exists(Final) && Directory.Exists(Previous))
            Directory.Move(Previous, Final);
        RefuseWhatIsTaken(overwrite);
        foreach (string leftover in new[] { Unfinished, Previous }.Where(Directory.Exists))
            Directory.Delete(leftover, recursive: true);
        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(Unfinished);
        else
            Directory.CreateDirectory(Unfinished, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }

    private void RefuseWhatIsTaken(bool overwrite)
    {
        if (File.Exists(Final))
            throw new OutputError(OutputFault.NotARun, Final, $"A file lies where the folder of the {_noun} should be.", "Choose another folder with --to.");
        if (!Directory.Exists(Final))
            return;
        if (new DirectoryInfo(Final).LinkTarget is not null)
            throw new OutputError(OutputFault.NotARun, Final, "This is a link to another folder.", "Name the folder itself.");
        bool finished = File.Exists(Path.Combine(Final, _lastFile));
        if (!finished && Directory.EnumerateFileSystemEntries(Final).Any())
        {
            throw new OutputError(OutputFault.NotARun, Final,
                $"This folder holds files but no {_lastFile}, so it is no finished {_noun} and is left alone.", "Choose an empty or new folder with --to.");
        }
        if (finished && !overwrite)
        {
            throw new OutputError(OutputFault.RunExists, Final,
                $"A finished {_noun} lies here.", "Choose another folder, or say that it may be overwritten.");
        }
    }

    private static FileStream HoldLock(string final, string noun)
    {
        string path = Sibling(final, "lock");
        try
        {
            return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, 1, FileOptions.DeleteOnClose);
        }
        catch (IOException fault) when (File.Exists(path) && fault is not (FileNotFoundException or DirectoryNotFoundException))
        {
            throw new OutputError(OutputFault.InUse, final,
                $"Another {noun} is being written into this folder.", "Wait until it has finished, or choose another folder.", fault);
        }
    }

    private static string Sibling(string final, string role)
        => Path.Combine(Path.GetDirectoryName(final)!, $".{Path.GetFileName(final)}.{role}");
}
