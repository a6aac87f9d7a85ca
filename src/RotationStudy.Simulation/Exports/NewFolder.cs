namespace RotationStudy.Simulation.Exports;

/// <summary>Makes a folder that appears whole or not at all: files gather in a hidden sibling that takes the name at the end.</summary>
internal static class NewFolder
{
    /// <param name="folder">Folder to make; it must not exist yet, or be empty.</param>
    /// <param name="fill">Writes the files into the folder named.</param>
    /// <exception cref="IOException">The folder holds files already, or cannot be written to.</exception>
    internal static void Write(string folder, Action<string> fill)
    {
        string final = Path.GetFullPath(folder);
        if (Directory.Exists(final) && Directory.EnumerateFileSystemEntries(final).Any())
            throw new IOException($"'{folder}' holds files already, and a made-up cohort never overwrites anything.");
        string parent = Path.GetDirectoryName(final) ?? final;
        Directory.CreateDirectory(parent);
        string unfinished = Path.Combine(parent, $".{Path.GetFileName(final)}.unfinished");
        Discard(unfinished);
        try
        {
            Directory.CreateDirectory(unfinished);
            fill(unfinished);
            if (Directory.Exists(final))
                Directory.Delete(final);
            Directory.Move(unfinished, final);
        }
        finally
        {
            Discard(unfinished);
        }
    }

    private static void Discard(string folder)
    {
        if (Directory.Exists(folder))
            Directory.Delete(folder, recursive: true);
    }
}
