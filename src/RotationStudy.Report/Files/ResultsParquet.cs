using System.Collections.Immutable;
using Parquet;
using Parquet.Schema;

namespace RotationStudy.Report.Files;

/// <summary>A flat table as one Parquet file with one row group. The same table gives the same bytes.</summary>
/// <remarks>Not compressed: the compressor's output depends on the instructions that a processor has, and the file is small.</remarks>
internal static class ResultsParquet
{
    /// <summary>The file. A column whose cells are all numbers or empty becomes a column of nullable doubles, any other of text.</summary>
    internal static byte[] Write(FlatTable table)
    {
        using MemoryStream stream = new();
        WriteAsync(table, stream).GetAwaiter().GetResult();
        return stream.ToArray();
    }

    private static async Task WriteAsync(FlatTable table, Stream stream)
    {
        bool[] numeric = [.. Enumerable.Range(0, table.Columns.Length).Select(c => IsNumeric(table, c))];
        DataField[] fields = [.. table.Columns.Select((name, c) => new DataField(name, numeric[c] ? typeof(double?) : typeof(string)))];
        ParquetOptions options = new() { CompressionMethod = CompressionMethod.None };
        await using ParquetWriter writer = await ParquetWriter.CreateAsync(new ParquetSchema(fields), stream, options).ConfigureAwait(false);
        using ParquetRowGroupWriter group = writer.CreateRowGroup();
        for (int c = 0; c < fields.Length; c++)
        {
            ImmutableArray<ImmutableArray<FlatCell>> rows = table.Rows;
            int column = c;
            if (numeric[c])
                await group.WriteAsync<double>(fields[c], rows.Select(r => r[column].Number).ToArray()).ConfigureAwait(false);
            else
                await group.WriteAsync(fields[c], rows.Select(r => r[column].Text).ToArray()).ConfigureAwait(false);
        }
        group.CompleteValidate();
    }

    private static bool IsNumeric(FlatTable table, int column)
        => table.Rows.Any(r => r[column].Number is not null) && table.Rows.All(r => r[column].Text.Length == 0);
}
