using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Exports;

/// <summary>Reads the CSV files of an export folder, strictly and without judging any value.</summary>
/// <remarks>
/// UTF-8 with or without a mark, or UTF-16 with one; commas; a header with the names of the protocol, in any order;
/// quotation marks as RFC 4180 has them. Whatever else comes is a finding that says the file and line: nothing is guessed.
/// Files are streamed; each is opened once, hashed and inspected in one pass, then read in a second.
/// </remarks>
public static class ExportReader
{
    /// <summary>Reads the folder.</summary>
    /// <param name="folder">Path of the export folder.</param>
    /// <param name="protocol">The protocol, which says what files and columns there may be.</param>
    /// <param name="cancellation">Ends the reading early.</param>
    /// <exception cref="DirectoryNotFoundException">There is no such folder.</exception>
    /// <exception cref="IOException">A file cannot be opened or read.</exception>
    /// <exception cref="UnauthorizedAccessException">A file may not be read.</exception>
    /// <exception cref="OperationCanceledException">The reading was ended early.</exception>
    public static ExportFolder Read(string folder, StudyProtocol protocol, CancellationToken cancellation = default)
    {
        string root = Path.GetFullPath(folder);
        if (!Directory.Exists(root))
            throw new DirectoryNotFoundException($"There is no export folder '{folder}'.");
        List<Finding> findings = [];
        ImmutableArray<ExportFile>.Builder files = ImmutableArray.CreateBuilder<ExportFile>();
        List<FileHash> hashes = [];
        foreach (TableDefinition table in protocol.Tables)
        {
            if (Find(root, table, findings) is not { } path)
                continue;
            using FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 0, FileOptions.SequentialScan);
            FileInspection inspection = FileInspection.Read(stream);
            hashes.Add(new FileHash(table.File, inspection.Sha256, inspection.Bytes));
            if (!IsText(inspection, table.File, findings))
                continue;
            stream.Position = inspection.MarkLength;
            if (CsvTable.Read(stream, inspection.Encoding, table, findings, cancellation) is { } file)
                files.Add(file);
        }
        ReportStrangers(root, protocol, findings);
        return new ExportFolder(files.ToImmutable(), [.. findings], [.. hashes.OrderBy(h => h.Name, StringComparer.Ordinal)]);
    }

    private static string? Find(string root, TableDefinition table, List<Finding> findings)
    {
        string path = Path.Combine(root, table.File);
        FileInfo info = new(path);
        if (!info.Exists)
        {
            if (table.Required)
            {
                findings.Add(CheckCatalog.FileMissing.InFile(
                    table.File, table.File,
                    $"The file {table.File} ({table.Label}) is missing. {NearestFile(root, table.File)}"));
            }
            return null;
        }
        if (info.ResolveLinkTarget(returnFinalTarget: true) is { } target
            && !target.FullName.StartsWith(root + Path.DirectorySeparatorChar, StringComparison.Ordinal))
        {
            findings.Add(CheckCatalog.FileOutside.InFile(
                table.File, "a file inside the export folder",
                $"{table.File} is a link to a place outside the export folder. Put the file itself into the folder."));
            return null;
        }
        return path;
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
        foreach (string name in Directory.EnumerateFiles(root).Select(p => Path.GetFileName(p)).Order(StringComparer.Ordinal))
        {
            if (declared.Contains(name, StringComparer.Ordinal) || !name.EndsWith(".csv", StringComparison.OrdinalIgnoreCase))
                continue;
            findings.Add(CheckCatalog.FileUnknown.InFile(
                name, "a file of the protocol",
                $"{name} is not declared in the protocol and was not read. {NearestName.Hint(name, declared)}"));
        }
    }
}
