using System.Text;
using CsvHelper;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Rows of delimited text in a declared separator and encoding.</summary>
internal sealed class CsvRows : RowSource
{
    /// <summary>No row of a study is longer; an unpaired quotation mark must not swallow the rest of a large file.</summary>
    internal const int LongestRow = 1 << 20;

    private readonly CsvReader reader;
    private readonly string[] header;

    private CsvRows(CsvReader reader)
    {
        this.reader = reader;
        header = Guarded(() =>
        {
            reader.ReadHeader();
            return reader.Headers.Select(h => h.Trim()).ToArray();
        });
    }

    internal override IReadOnlyList<string> Header => header;

    internal override int Line => (int)reader.LineNumber;

    internal override int Cells => reader.FieldCount;

    internal static CsvRows Open(Stream stream, char separator, FileEncoding encoding)
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
        StreamReader text = new(stream, Decoder(encoding), detectEncodingFromByteOrderMarks: true, leaveOpen: false);
        CsvReader reader = CsvReader.Create(text, options, leaveOpen: false);
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

    internal override bool Read() => Guarded(reader.Read);

    internal override ReadOnlySpan<byte> Cell(int position) => reader.GetSpan(position);

    public override void Dispose() => reader.Dispose();

    private static Encoding Decoder(FileEncoding encoding) => encoding switch
    {
        FileEncoding.Latin1 => Encoding.GetEncoding("iso-8859-1", EncoderFallback.ExceptionFallback, DecoderFallback.ExceptionFallback),
        FileEncoding.Western => CodePagesEncodingProvider.Instance.GetEncoding(1252, EncoderFallback.ExceptionFallback, DecoderFallback.ExceptionFallback)!,
        FileEncoding.Utf16 => new UnicodeEncoding(bigEndian: false, byteOrderMark: true, throwOnInvalidBytes: true),
        _ => new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true),
    };

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
                $"from line {line} on it cannot be read: a quotation mark is not closed, stands inside a cell, or a row is longer than any row can be", line);
        }
        catch (DecoderFallbackException e)
        {
            throw new UnreadableFileException("it holds bytes that are no text in the declared encoding", e);
        }
    }
}
