using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Opens a file by the ending of its name.</summary>
internal static class RowFormat
{
    /// <summary>Endings of the formats beside CSV.</summary>
    internal static readonly string[] Others = [".xlsx", ".parquet", ".json"];

    /// <summary>The rows of a file.</summary>
    /// <exception cref="UnreadableFileException">The file is not what its ending says.</exception>
    internal static RowSource Open(string path, FileLayout layout)
    {
        FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 1 << 16, FileOptions.SequentialScan);
        try
        {
            return Path.GetExtension(path).ToLowerInvariant() switch
            {
                ".xlsx" => WorkbookRows.Open(stream, layout.Sheet),
                ".parquet" => ParquetRows.Open(stream),
                ".json" => DatasetJsonRows.Open(stream),
                _ => CsvRows.Open(stream, layout.Separator, layout.Encoding),
            };
        }
        catch
        {
            stream.Dispose();
            throw;
        }
    }
}
