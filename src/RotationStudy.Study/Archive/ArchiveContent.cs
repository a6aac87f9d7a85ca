using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Archive;

/// <summary>The files of an archive in memory, each of them read only once its hash agrees.</summary>
/// <param name="Manifest">The manifest.</param>
/// <param name="Tables">The tables, in the order of the manifest.</param>
/// <param name="Findings">The findings.</param>
internal sealed record ArchiveContent(
    ArchiveManifest Manifest, ImmutableArray<(string Table, ArchiveFile File)> Tables, ImmutableArray<Finding> Findings)
{
    /// <summary>Name of the list of hashes, in the form that common tools check.</summary>
    internal const string HashFile = "archive.sha256";

    /// <summary>The next step when an archive cannot be used.</summary>
    internal const string Anew = "Make the archive anew from the export.";

    private const string FindingsFile = "findings.parquet";

    /// <summary>Reads an archive.</summary>
    /// <exception cref="ArchiveError">A file is missing, changed or damaged.</exception>
    internal static ArchiveContent Open(string folder)
    {
        ArchiveManifest manifest = ReadManifest(folder);
        return new ArchiveContent(
            manifest,
            [.. manifest.Tables.Select(t => (t.Table, Read(folder, t, f => f)))],
            Read(folder, manifest.Findings, FindingFile.Read));
    }

    /// <summary>Turns what is wrong inside a file into words.</summary>
    internal static T Understood<T>(string path, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (Exception fault) when (fault is InvalidDataException or InvalidOperationException or OverflowException or ArgumentException)
        {
            throw new ArchiveError(path, $"The file cannot be used: {fault.Message}.", Anew, fault);
        }
    }

    /// <summary>Writes tables, findings, hashes and, last, the manifest; answers with the hash of the manifest.</summary>
    internal string Write(FileWriting write)
    {
        ImmutableArray<ArchivedTable> tables = [.. Tables.Select(t => WriteFile(t.Table, t.Table + ".parquet", t.File, write))];
        ArchiveManifest manifest = Manifest with { Tables = tables, Findings = WriteFile("findings", FreeName(tables), FindingFile.Of(Findings), write) };
        byte[] json = manifest.ToJson();
        write(HashFile, stream => stream.Write(Encoding.UTF8.GetBytes(HashList(manifest, json))));
        write(ArchiveManifest.FileName, stream => stream.Write(json));
        return Convert.ToHexStringLower(SHA256.HashData(json));
    }

    private static ArchiveManifest ReadManifest(string folder)
    {
        string path = Path.Combine(folder, ArchiveManifest.FileName);
        if (!File.Exists(path))
            throw new ArchiveError(folder, $"There is no {ArchiveManifest.FileName} in this folder, so it is no archive of checked records.", "Look at the path.");
        byte[] bytes = File.ReadAllBytes(path);
        ArchiveManifest manifest;
        try
        {
            manifest = ArchiveManifest.Of(bytes);
        }
        catch (JsonException fault)
        {
            throw new ArchiveError(path, "The manifest is damaged, or was written by another version.", Anew, fault);
        }
        if (manifest.Form != ArchiveManifest.CurrentForm)
            throw new ArchiveError(path, $"The archive has form {manifest.Form}; this program reads form {ArchiveManifest.CurrentForm}.", Anew);
        string hashes = Path.Combine(folder, HashFile);
        if (!File.Exists(hashes) || File.ReadAllText(hashes) != HashList(manifest, bytes))
            throw new ArchiveError(path, $"The manifest and the hashes of {HashFile} do not agree: one of them was changed.", Anew);
        return manifest;
    }

    private static T Read<T>(string folder, ArchivedTable entry, Func<ArchiveFile, T> read)
    {
        string path = Path.Combine(folder, entry.File);
        if (!File.Exists(path))
            throw new ArchiveError(path, "The file is missing from the archive.", Anew);
        using FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.Read);
        if (stream.Length != entry.Bytes || Convert.ToHexStringLower(SHA256.HashData(stream)) != entry.Sha256)
            throw new ArchiveError(path, $"The file was changed after the archive was made: its hash is not the one in {ArchiveManifest.FileName}.", Anew);
        stream.Position = 0;
        ArchiveFile file;
        try
        {
            file = ArchiveFile.Read(stream);
        }
        catch (Exception fault) when (fault is not (UnauthorizedAccessException or OutOfMemoryException))
        {
            throw new ArchiveError(path, "The file is no Parquet file.", Anew, fault);
        }
        return Understood(path, () => read(file));
    }

    private static ArchivedTable WriteFile(string table, string name, ArchiveFile file, FileWriting write)
    {
        ArchivedTable? written = null;
        write(name, stream =>
        {
            file.Write(stream);
            stream.Position = 0;
            written = new ArchivedTable(table, name, file.Rows, Convert.ToHexStringLower(SHA256.HashData(stream)), stream.Length);
        });
        return written!;
    }

    /// <summary>Name of the file of findings; another one where a table has it already.</summary>
    private static string FreeName(ImmutableArray<ArchivedTable> tables)
        => tables.Any(t => t.File.Equals(FindingsFile, StringComparison.OrdinalIgnoreCase)) ? "all-" + FindingsFile : FindingsFile;

    private static string HashList(ArchiveManifest manifest, byte[] json)
    {
        IEnumerable<(string File, string Sha256)> all = manifest.Files.Select(f => (f.File, f.Sha256))
            .Append((ArchiveManifest.FileName, Convert.ToHexStringLower(SHA256.HashData(json))));
        return string.Concat(all.OrderBy(f => f.File, StringComparer.Ordinal).Select(f => $"{f.Sha256}  {f.File}\n"));
    }
}
