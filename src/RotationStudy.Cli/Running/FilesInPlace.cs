namespace RotationStudy.Cli.Running;

/// <summary>Writes files into a folder that may hold others: all aside first, then moved, so that no half file is ever seen.</summary>
internal static class FilesInPlace
{
    internal static void Write(string folder, IReadOnlyList<(string Name, byte[] Content)> files)
    {
        List<(string Aside, string Final)> moves = [];
        try
        {
            foreach ((string name, byte[] content) in files)
            {
                string final = Path.Combine(folder, name);
                string parent = Path.GetDirectoryName(final)!;
                Directory.CreateDirectory(parent);
                string aside = Path.Combine(parent, $".{Path.GetFileName(name)}.unfinished");
                moves.Add((aside, final));
                File.WriteAllBytes(aside, content);
            }
            foreach ((string aside, string final) in moves)
                File.Move(aside, final, overwrite: true);
        }
        finally
        {
            foreach ((string aside, _) in moves.Where(m => File.Exists(m.Aside)))
                File.Delete(aside);
        }
    }
}
