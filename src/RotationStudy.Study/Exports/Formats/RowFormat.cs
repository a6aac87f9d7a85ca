using System.Security.Cryptography;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Opens a file by the ending of its name.</summary>
internal static class RowFormat
{
    /// <summary>Endings of the formats beside CSV.</summary>
    internal static readonly string[] Others = [".xlsx", ".parquet", ".json"];

    /// <summary>The file, its hash noted; null when a finding says why it holds no table.</summary>
    /// <exception cref="UnreadableFileException">The file is not what its ending says.</exception>
    internal static TableSource? Open(string path, string name, FileLayout layout, ExportReading reading)
    {
        reading.Begin(name);
        FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 1 << 16, FileOptions.SequentialScan);
        TableSource? source = null;
        try
        {
            string ending = Path.GetExtension(path).ToLowerInvariant();
            if (!Others.Contains(ending))
                return source = TextFile.Open(stream, name, layout, reading);
            reading.Note(new FileHash(name, Convert.ToHexStringLower(SHA256.HashData(stream)), stream.Length));
            stream.Position = 0;
            return source = ending switch
            {
                ".xlsx" => WorkbookRows.Open(stream, layout.Sheet),
                ".parquet" => ParquetTable.Open(stream),
                _ => DatasetJsonRows.Open(stream),
            };
        }
        finally
        {
            if (source is null)
                stream.Dispose();
        }
    }
}
