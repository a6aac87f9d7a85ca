using System.Collections.Immutable;
using System.Security.Cryptography;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports.Formats;
using RotationStudy.Study.Exports.Mapping;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Exports;

/// <summary>Reads the files of an export folder, strictly and without judging any value.</summary>
/// <remarks>
/// CSV, XLSX, Parquet and Dataset-JSON, by the ending of the name; files of sites that write their own form lie in a folder named after
/// the site and are read by its mapping. CSV of the protocol's form: UTF-8 with or without a mark, or UTF-16 with one; commas; a header with the names of the protocol, in any order;
/// quotation marks as RFC 4180 has them. Whatever else comes is a finding that says the file and line: nothing is guessed.
/// Files are streamed; each is opened once, hashed and inspected in one pass, then read in a second.
/// </remarks>
public static class ExportReader
{
    /// <summary>Reads the export.</summary>
    /// <param name="folder">Path of the export folder, or of a zip archive of one.</param>
    /// <param name="protocol">The protocol, which says what files and columns there may be.</param>
    /// <param name="cancellation">Ends the reading early.</param>
    /// <exception cref="DirectoryNotFoundException">There is no such folder.</exception>
    /// <exception cref="IOException">A file cannot be opened or read.</exception>
    /// <exception cref="UnauthorizedAccessException">A file may not be read.</exception>
    /// <exception cref="OperationCanceledException">The reading was ended early.</exception>
    public static ExportFolder Read(string folder, StudyProtocol protocol, CancellationToken cancellation = default)
    {
        string root = Path.GetFullPath(folder);
        List<Finding> findings = [];
        if (File.Exists(root) && Path.GetExtension(root).Equals(".zip", StringComparison.OrdinalIgnoreCase))
        {
            using ExportArchive archive = ExportArchive.Unpack(root, findings, cancellation);
            return findings.Count > 0
                ? new ExportFolder([], [.. findings], [archive.Hash])
                : ReadFolder(archive.Folder, protocol, findings, cancellation);
        }
        if (!Directory.Exists(root))
            throw new DirectoryNotFoundException($"There is no export folder '{folder}'.");
        return ReadFolder(root, protocol, findings, cancellation);
    }

    private static ExportFolder ReadFolder(string root, StudyProtocol protocol, List<Finding> findings, CancellationToken cancellation)
    {
        ImmutableArray<ExportFile>.Builder files = ImmutableArray.CreateBuilder<ExportFile>();
        List<FileHash> hashes = [];
        foreach (TableDefinition table in protocol.Tables)
        {
            List<ExportFile> parts = [];
            bool any = ReadOwn(root, table, parts, findings, hashes, cancellation);
            any |= SiteFiles.Read(root, table, protocol, parts, findings, hashes, cancellation);
            if (!any && table.Required)
            {
                findings.Add(CheckCatalog.FileMissing.InFile(
                    table.File, table.File,
                    $"The file {table.File} ({table.Label}) is missing. {NearestFile(root, table.File)}"));
            }
            if (JoinedFile.Of(table, parts) is { } file)
                files.Add(file);
        }
        ReportStrangers(root, protocol, findings);
        return new ExportFolder(files.ToImmutable(), [.. findings], [.. hashes.OrderBy(h => h.Name, StringComparer.Ordinal)]);
    }

    /// <summary>Reads the table's own file, in the declared form or another format of the same name; whether there is one.</summary>
    private static bool ReadOwn(
        string root, TableDefinition table, List<ExportFile> parts, List<Finding> findings, List<FileHash> hashes, CancellationToken cancellation)
    {
        string[] names =
        [
            .. new[] { table.File }.Concat(RowFormat.Others.Select(e => Path.ChangeExtension(table.File, e))).Distinct()
                .Where(n => File.Exists(Path.Combine(root, n))),
        ];
        if (names.Length == 0)
            return false;
        if (names.Length > 1)
        {
            findings.Add(CheckCatalog.FileTwice.InFile(
                names[0], "one file", $"{table.Label} are there as {string.Join(" and ", names)}. Leave the one that counts in the export."));
            return true;
        }
        if (!IsInside(root, names[0], findings))
            return true;
        string path = Path.Combine(root, names[0]);
        bool text = names[0] == table.File && !RowFormat.Others.Contains(Path.GetExtension(table.File).ToLowerInvariant());
        ExportFile? file = text
            ? ReadText(path, table, findings, hashes, cancellation)
            : SourceTable.Read(Hashed(path, names[0], hashes), names[0], table, findings, cancellation);
        if (file is not null)
            parts.Add(file);
        return true;
    }

    private static ExportFile? ReadText(string path, TableDefinition table, List<Finding> findings, List<FileHash> hashes, CancellationToken cancellation)
    {
        using FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 0, FileOptions.SequentialScan);
        FileInspection inspection = FileInspection.Read(stream);
        hashes.Add(new FileHash(table.File, inspection.Sha256, inspection.Bytes));
        if (!IsText(inspection, table.File, findings))
            return null;
        stream.Position = inspection.MarkLength;
        return CsvTable.Read(stream, inspection.Encoding, table, findings, cancellation);
    }

    /// <summary>Notes the hash of a file and gives its path back.</summary>
    internal static string Hashed(string path, string name, List<FileHash> hashes)
    {
        using FileStream stream = File.OpenRead(path);
        hashes.Add(new FileHash(name, Convert.ToHexStringLower(SHA256.HashData(stream)), stream.Length));
        return path;
    }

    /// <summary>Whether a file is no link to a place outside the export; a finding says so when it is.</summary>
    internal static bool IsInside(string root, string name, List<Finding> findings)
    {
        FileInfo info = new(Path.Combine(root, name));
        if (info.ResolveLinkTarget(returnFinalTarget: true) is { } target
            && !target.FullName.StartsWith(root + Path.DirectorySeparatorChar, StringComparison.Ordinal))
        {
            findings.Add(CheckCatalog.FileOutside.InFile(
                name, "a file inside the export folder",
                $"{name} is a link to a place outside the export folder. Put the file itself into the folder."));
            return false;
        }
        return true;
    }

    private static string NearestFile(string root, string wanted)
    {
        IEnumerable<string> names = Directory.EnumerateFiles(root).Select(p => Path.GetFileName(p)).Order(StringComparer.Ordinal);
        return NearestName.Of(wanted, names) is { } near ? $"Is it the file called {near}?" : "Add it to the export.";
    }

    private static bool IsText(FileInspection inspection, string file, List<Finding> findings)
    {
        if (inspection.Bytes == 0 || inspection.IsBlank)
        {
            findings.Add(CheckCatalog.FileEmpty.InFile(
                file, "a header and rows",
                $"{file} is empty. Send it again; a table without rows still has its header."));
            return false;
        }
        if (inspection.NulLine > 0)
        {
            findings.Add(CheckCatalog.FileEncoding.At(
                file, inspection.NulLine, null, null, "UTF-8 text",
                $"{file} holds zero bytes from line {inspection.NulLine} on: it is no text, or UTF-16 without its mark. Save it as CSV in UTF-8."));
            return false;
        }
        if (inspection.BadLine > 0)
        {
            findings.Add(CheckCatalog.FileEncoding.At(
                file, inspection.BadLine, null, null, "UTF-8 text",
                $"Line {inspection.BadLine} of {file} holds the byte {inspection.BadByte:X2}, which is no UTF-8. "
                    + "The file was probably saved in a Western single-byte encoding. Save it as CSV in UTF-8."));
            return false;
        }
        return true;
    }

    private static void ReportStrangers(string root, StudyProtocol protocol, List<Finding> findings)
    {
        string[] declared = [.. protocol.Tables.Select(t => t.File)];
        string[] read = [.. declared, .. declared.SelectMany(d => RowFormat.Others.Select(e => Path.ChangeExtension(d, e)))];
        foreach (string name in Directory.EnumerateFiles(root).Select(p => Path.GetFileName(p)).Order(StringComparer.Ordinal))
        {
            if (read.Contains(name, StringComparer.Ordinal) || !IsTable(name))
                continue;
            findings.Add(CheckCatalog.FileUnknown.InFile(
                name, "a file of the protocol",
                $"{name} is not declared in the protocol and was not read. {NearestName.Hint(name, declared)}"));
        }
    }

    private static bool IsTable(string name)
        => Path.GetExtension(name).ToLowerInvariant() is ".csv" or ".txt" or ".tsv" or ".xls" or ".zip" || RowFormat.Others.Contains(Path.GetExtension(name).ToLowerInvariant());
}
