using System.Globalization;
using System.IO.Compression;
using System.Security.Cryptography;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports;

/// <summary>A zip archive of an export, unpacked into a private folder that is removed afterwards.</summary>
/// <remarks>
/// Lengths are counted while unpacking, not believed; entries that lead out of the folder, too many, too long or packed beyond measure
/// are refused before anything of them is read.
/// </remarks>
internal sealed class ExportArchive : IDisposable
{
    private const int MostEntries = 1000;
    private const long MostBytes = 16L << 30;
    private const long FreeOfRatio = 64L << 20;
    private const long MostRatio = 200;

    private ExportArchive(string folder, FileHash hash) => (Folder, Hash) = (folder, hash);

    /// <summary>Where the files are.</summary>
    internal string Folder { get; }

    /// <summary>The archive itself.</summary>
    internal FileHash Hash { get; }

    internal static ExportArchive Unpack(string path, List<Finding> findings, CancellationToken cancellation)
    {
        string name = Path.GetFileName(path);
        using FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.Read);
        FileHash hash = new(name, Convert.ToHexStringLower(SHA256.HashData(stream)), stream.Length);
        stream.Position = 0;
        ExportArchive archive = new(Directory.CreateTempSubdirectory("export-").FullName, hash);
        try
        {
            using ZipArchive zip = new(stream, ZipArchiveMode.Read, leaveOpen: true);
            archive.UnpackAll(zip, name, findings, cancellation);
        }
        catch (InvalidDataException)
        {
            findings.Add(CheckCatalog.FileArchive.InFile(name, "a zip archive", $"{name} is no zip archive, is damaged or is locked by a password. Pack it again."));
        }
        catch
        {
            archive.Dispose();
            throw;
        }
        return archive;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (Directory.Exists(Folder))
            Directory.Delete(Folder, recursive: true);
    }

    private void UnpackAll(ZipArchive zip, string name, List<Finding> findings, CancellationToken cancellation)
    {
        if (zip.Entries.Count > MostEntries)
        {
            Refuse($"it holds {zip.Entries.Count.ToString(CultureInfo.InvariantCulture)} entries; an export has a few dozen");
            return;
        }
        string common = CommonFolder(zip);
        long total = 0;
        foreach (ZipArchiveEntry entry in zip.Entries.Where(e => !e.FullName.EndsWith('/')))
        {
            cancellation.ThrowIfCancellationRequested();
            string relative = entry.FullName[common.Length..];
            if (!IsPlain(relative))
            {
                Refuse("an entry leads out of it or has a name that no export has");
                return;
            }
            if (File.Exists(Path.Combine(Folder, relative)))
            {
                Refuse($"it holds {relative} twice");
                return;
            }
            long allowed = Math.Min(MostBytes - total, Math.Max(FreeOfRatio, MostRatio * entry.CompressedLength));
            if (Copy(entry, Path.Combine(Folder, relative), allowed) is not { } written)
            {
                Refuse($"the entry {relative} unpacks to more than {MostRatio.ToString(CultureInfo.InvariantCulture)} times its size");
                return;
            }
            total += written;
        }

        void Refuse(string why) => findings.Add(CheckCatalog.FileArchive.InFile(name, "a plain archive of the export's files", $"{name} is refused: {why}. Pack the files of the export again."));
    }

    // An archive of a folder has all files below that folder's name.
    private static string CommonFolder(ZipArchive zip)
    {
        string[] tops = [.. zip.Entries.Select(e => e.FullName.Split('/', 2)[0]).Distinct()];
        return tops.Length == 1 && tops[0] is not (".." or "." or "") && zip.Entries.All(e => e.FullName.Contains('/', StringComparison.Ordinal)) ? tops[0] + "/" : string.Empty;
    }

    // A file, or a file in the folder of a site.
    private static bool IsPlain(string relative)
    {
        string[] steps = relative.Split('/');
        return steps.Length <= 2 && steps.All(s => s.Length is > 0 and <= 200 && s is not ("." or "..")
            && s.All(c => !char.IsControl(c) && c is not ('\\' or ':' or '*' or '?' or '"' or '<' or '>' or '|')));
    }

    private static long? Copy(ZipArchiveEntry entry, string target, long allowed)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(target)!);
        using Stream from = entry.Open();
        using FileStream to = new(target, FileMode.CreateNew, FileAccess.Write);
        byte[] buffer = new byte[1 << 16];
        long written = 0;
        for (int read = from.Read(buffer); read > 0; read = from.Read(buffer))
        {
            written += read;
            if (written > allowed)
                return null;
            to.Write(buffer, 0, read);
        }
        return written;
    }
}
