using System.Collections.Immutable;
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
    /// <param name="progress">Told which file is read, and how far a long one is; null for silence.</param>
    /// <param name="cancellation">Ends the reading early.</param>
    /// <exception cref="DirectoryNotFoundException">There is no such folder.</exception>
    /// <exception cref="IOException">A file cannot be opened or read.</exception>
    /// <exception cref="UnauthorizedAccessException">A file may not be read.</exception>
    /// <exception cref="OperationCanceledException">The reading was ended early.</exception>
    public static ExportFolder Read(string folder, StudyProtocol protocol, IProgress<string>? progress = null, CancellationToken cancellation = default)
    {
        string root = Path.GetFullPath(folder);
        ExportReading reading = new(cancellation, progress);
        if (File.Exists(root) && Path.GetExtension(root).Equals(".zip", StringComparison.OrdinalIgnoreCase))
        {
            using ExportArchive archive = ExportArchive.Unpack(root, reading.Findings, cancellation);
            return reading.Findings.Count > 0
                ? new ExportFolder([], [.. reading.Findings], [archive.Hash])
                : ReadFolder(archive.Folder, protocol, reading);
        }
        if (!Directory.Exists(root))
            throw new DirectoryNotFoundException($"There is no export folder '{folder}'.");
        return ReadFolder(root, protocol, reading);
    }

    private static ExportFolder ReadFolder(string root, StudyProtocol protocol, ExportReading reading)
    {
        ImmutableArray<ExportFile>.Builder files = ImmutableArray.CreateBuilder<ExportFile>();
        foreach (TableDefinition table in protocol.Tables)
        {
            List<ExportFile> parts = [];
            bool any = ReadOwn(root, table, parts, reading);
            any |= SiteFiles.Read(root, table, protocol, parts, reading);
            if (!any && table.Required)
            {
                reading.Findings.Add(CheckCatalog.FileMissing.InFile(
                    table.File, table.File,
                    $"The file {table.File} ({table.Label}) is missing. {NearestFile(root, table.File)}"));
            }
            if (JoinedFile.Of(table, parts) is { } file)
                files.Add(file);
        }
        ReportStrangers(root, protocol, reading.Findings);
        return new ExportFolder(files.ToImmutable(), [.. reading.Findings], [.. reading.Hashes.OrderBy(h => h.Name, StringComparer.Ordinal)]);
    }

    /// <summary>Reads the table's own file, in the declared form or another format of the same name; whether there is one.</summary>
    private static bool ReadOwn(string root, TableDefinition table, List<ExportFile> parts, ExportReading reading)
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
            reading.Findings.Add(CheckCatalog.FileTwice.InFile(
                names[0], "one file", $"{table.Label} are there as {string.Join(" and ", names)}. Leave the one that counts in the export."));
            return true;
        }
        if (!IsInside(root, names[0], reading.Findings))
            return true;
        if (SourceTable.Read(Path.Combine(root, names[0]), names[0], table, reading) is { } file)
            parts.Add(file);
        return true;
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

    // JSON that is no table at all, such as the truth beside a made-up cohort, is nobody's slip.
    private static bool IsOtherJson(string path)
        => path.EndsWith(".json", StringComparison.OrdinalIgnoreCase) && new FileInfo(path).Length < 64 << 20
            && !File.ReadAllText(path).Contains("datasetJSONVersion", StringComparison.Ordinal);

    private static void ReportStrangers(string root, StudyProtocol protocol, List<Finding> findings)
    {
        string[] declared = [.. protocol.Tables.Select(t => t.File)];
        string[] read = [.. declared, .. declared.SelectMany(d => RowFormat.Others.Select(e => Path.ChangeExtension(d, e)))];
        foreach (string name in Directory.EnumerateFiles(root).Select(p => Path.GetFileName(p)).Order(StringComparer.Ordinal))
        {
            if (read.Contains(name, StringComparer.Ordinal) || !IsTable(name) || IsOtherJson(Path.Combine(root, name)))
                continue;
            findings.Add(CheckCatalog.FileUnknown.InFile(
                name, "a file of the protocol",
                $"{name} is not declared in the protocol and was not read. {NearestName.Hint(name, declared)}"));
        }
    }

    private static bool IsTable(string name)
        => Path.GetExtension(name).ToLowerInvariant() is ".csv" or ".txt" or ".tsv" or ".xls" or ".zip" || RowFormat.Others.Contains(Path.GetExtension(name).ToLowerInvariant());
}
