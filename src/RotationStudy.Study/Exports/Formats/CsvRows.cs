using System.Text;
using CsvHelper;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Rows of delimited text.</summary>
internal sealed class CsvRows : RowSource
{
    /// <summary>No row of a study is longer; an unpaired quotation mark must not swallow the rest of a large file.</summary>
    internal const int LongestRow = 1 << 20;

    private readonly CsvReader reader;

    private CsvRows(CsvReader reader)
    {
        this.reader = reader;
        Header = Guarded(() =>
        {
            reader.ReadHeader();
            return reader.Headers.ToArray();
        });
    }

    internal override IReadOnlyList<string> Header { get; }

    protected internal override int Line => (int)reader.LineNumber;

    protected internal override int Cells => reader.FieldCount;

    protected override string RowWord => "Line";

    protected override string CauseOfMore => " A decimal comma, or a comma inside a text that is not enclosed in quotation marks, is the usual cause.";

    protected override string CauseOfFewer => " The row may have been cut off.";

    /// <summary>Opens a stream that stands behind its mark.</summary>
    /// <param name="stream">Is closed with the rows.</param>
    /// <param name="separator">What stands between cells.</param>
    /// <param name="encoding">How letters are written; null for UTF-8, whose bytes need no translation and are known to be sound.</param>
    internal static CsvRows Open(Stream stream, char separator, Encoding? encoding)
    {
        CsvReaderOptions options = new()
        {
            Separator = separator,
            MalformedData = CsvMalformedDataHandling.Throw,
            FieldCountMismatch = CsvFieldCountHandling.Allow,
            TrackLineNumbers = true,
            DetectSeparatorHint = false,
            IncludeValuesInExceptions = false,
            MaxRecordSize = LongestRow,
        };
        CsvReader reader = encoding is null
            ? CsvReader.Create(stream, options, leaveOpen: false)
            : CsvReader.Create(new StreamReader(stream, encoding, detectEncodingFromByteOrderMarks: false, leaveOpen: false), options, leaveOpen: false);
        try
        {
            return new CsvRows(reader);
        }
        catch
        {
            reader.Dispose();
            throw;
        }
    }

    protected internal override bool Read() => Guarded(reader.Read);

    protected internal override ReadOnlySpan<byte> Cell(int position) => reader.GetSpan(position);

    public override void Dispose() => reader.Dispose();

    private static T Guarded<T>(Func<T> read)
    {
        try
        {
            return read();
        }
        catch (CsvFormatException e)
        {
            int line = (int)Math.Max(e.LineNumber, 1);
            throw new UnreadableFileException(
                "a quotation mark is not closed, stands inside a cell, or a row is longer than any row can be. "
                    + "Write a quotation mark inside a cell twice, and enclose the cell in quotation marks",
                line, CheckCatalog.FileQuoting);
        }
        catch (DecoderFallbackException)
        {
            throw new UnreadableFileException("it holds bytes that are no text in the encoding that its mark or its mapping names", 0, CheckCatalog.FileEncoding);
        }
    }
}
