using Parquet;
using Parquet.Schema;

namespace RotationStudy.Study.Archive;

/// <summary>A flat Parquet file: columns of equal length and a few texts about them. The same content gives the same bytes.</summary>
/// <remarks>
/// Row groups are bounded, so that another program can read a long table piece by piece. Nothing is compressed, since the
/// compressor's output depends on the instructions that a processor has; repeated values are stored once all the same.
/// </remarks>
/// <param name="Columns">The columns.</param>
/// <param name="About">Texts about the file, by name; they stand in the metadata of its footer.</param>
internal sealed record ArchiveFile(IReadOnlyList<ArchiveColumn> Columns, IReadOnlyDictionary<string, string> About)
{
    private const int RowsOfGroup = 262_144;

    internal int Rows => Columns.Count == 0 ? 0 : Columns[0].Rows;

    /// <summary>The column of that name, or null.</summary>
    internal ArchiveColumn? Column(string name) => Columns.FirstOrDefault(c => c.Name == name);

    /// <summary>The same file with these rows only.</summary>
    internal ArchiveFile Pick(int[] rows) => this with { Columns = [.. Columns.Select(c => c.Pick(rows))] };

    internal void Write(Stream stream) => WriteAsync(stream).GetAwaiter().GetResult();

    /// <summary>Reads a file of this form. The library throws many types on damaged bytes; the caller turns them into words.</summary>
    internal static ArchiveFile Read(Stream stream) => ReadAsync(stream).GetAwaiter().GetResult();

    private async Task WriteAsync(Stream stream)
    {
        DataField[] fields = [.. Columns.Select(c => new DataField(c.Name, c switch
        {
            WholeNumbers => typeof(long?),
            Numbers => typeof(double?),
            _ => typeof(string),
        }))];
        ParquetOptions options = new() { CompressionMethod = CompressionMethod.None };
        await using ParquetWriter writer = await ParquetWriter.CreateAsync(new ParquetSchema(fields), stream, options).ConfigureAwait(false);
        writer.CustomMetadata = new Dictionary<string, string>(About);
        for (int first = 0; first == 0 || first < Rows; first += RowsOfGroup)
        {
            using ParquetRowGroupWriter group = writer.CreateRowGroup();
            int count = Math.Min(RowsOfGroup, Rows - first);
            for (int c = 0; c < fields.Length; c++)
                await WriteAsync(group, fields[c], Columns[c], first, count).ConfigureAwait(false);
            group.CompleteValidate();
        }
    }

    private static async Task WriteAsync(ParquetRowGroupWriter group, DataField field, ArchiveColumn column, int first, int count)
    {
        switch (column)
        {
            case WholeNumbers whole:
                await group.WriteAsync<long>(field, whole.Values.AsMemory(first, count)).ConfigureAwait(false);
                break;
            case Numbers numbers:
                await group.WriteAsync<double>(field, numbers.Values.AsMemory(first, count)).ConfigureAwait(false);
                break;
            case Texts texts:
                await group.WriteAsync(field, new ArraySegment<string>(texts.Values!, first, count)).ConfigureAwait(false);
                break;
            default:
                throw new ArgumentException($"No file can hold a {column.GetType().Name}.", nameof(column));
        }
    }

    private static async Task<ArchiveFile> ReadAsync(Stream stream)
    {
        await using ParquetReader reader = await ParquetReader.CreateAsync(stream, null, leaveStreamOpen: true).ConfigureAwait(false);
        DataField[] fields = reader.Schema.GetDataFields();
        int[] counts = new int[reader.RowGroupCount];
        for (int g = 0; g < counts.Length; g++)
        {
            using ParquetRowGroupReader group = reader.OpenRowGroupReader(g);
            counts[g] = checked((int)group.RowCount);
        }
        ArchiveColumn[] columns = Array.ConvertAll(fields, f => Empty(f, counts.Sum()));
        int first = 0;
        for (int g = 0; g < counts.Length; g++)
        {
            using ParquetRowGroupReader group = reader.OpenRowGroupReader(g);
            for (int c = 0; c < fields.Length; c++)
                await ReadAsync(group, fields[c], columns[c], first, counts[g]).ConfigureAwait(false);
            first += counts[g];
        }
        return new ArchiveFile(columns, reader.CustomMetadata.ToDictionary());
    }

    private static ArchiveColumn Empty(DataField field, int rows) => Type.GetTypeCode(Nullable.GetUnderlyingType(field.ClrType) ?? field.ClrType) switch
    {
        TypeCode.Int64 => new WholeNumbers(field.Name, new long?[rows]),
        TypeCode.Double => new Numbers(field.Name, new double?[rows]),
        _ => new Texts(field.Name, new string?[rows]),
    };

    private static async Task ReadAsync(ParquetRowGroupReader group, DataField field, ArchiveColumn column, int first, int count)
    {
        switch (column)
        {
            case WholeNumbers whole:
                await group.ReadAsync<long>(field, whole.Values.AsMemory(first, count)).ConfigureAwait(false);
                break;
            case Numbers numbers:
                await group.ReadAsync<double>(field, numbers.Values.AsMemory(first, count)).ConfigureAwait(false);
                break;
            case Texts texts:
                await group.ReadAsync(field, texts.Values.AsMemory(first, count)!).ConfigureAwait(false);
                break;
        }
    }
}
