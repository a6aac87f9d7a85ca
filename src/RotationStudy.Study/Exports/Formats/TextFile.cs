using System.Text;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Opens delimited text after one look at all its bytes: what is no text is refused before any of it is taken for a table.</summary>
internal static class TextFile
{
    /// <summary>The rows; null when a finding says that there are none.</summary>
    internal static RowSource? Open(FileStream stream, string name, FileLayout layout, ExportReading reading)
    {
        FileInspection inspection = FileInspection.Read(stream, reading.Cancellation);
        reading.Note(new FileHash(name, inspection.Sha256, inspection.Bytes));
        if (Fault(inspection, name, layout.Encoding) is { } fault)
        {
            reading.Findings.Add(fault);
            return null;
        }
        stream.Position = inspection.MarkLength;
        return CsvRows.Open(stream, layout.Separator, Decoder(inspection, layout.Encoding));
    }

    private static Finding? Fault(FileInspection inspection, string file, FileEncoding declared)
    {
        if (inspection.Bytes == 0 || inspection.IsBlank)
        {
            return CheckCatalog.FileEmpty.InFile(
                file, "a header and rows", $"{file} is empty. Send it again; a table without rows still has its header.");
        }
        if (inspection.NulLine > 0)
        {
            return CheckCatalog.FileEncoding.At(
                file, inspection.NulLine, null, null, "UTF-8 text",
                $"{file} holds zero bytes from line {inspection.NulLine} on: it is no text, or UTF-16 without its mark. Save it as CSV in UTF-8.");
        }
        if (inspection.BadLine > 0 && declared is FileEncoding.Utf8 or FileEncoding.Utf16)
        {
            return CheckCatalog.FileEncoding.At(
                file, inspection.BadLine, null, null, "UTF-8 text",
                $"Line {inspection.BadLine} of {file} holds the byte {inspection.BadByte:X2}, which is no UTF-8. "
                    + "The file was probably saved in a Western single-byte encoding. Save it as CSV in UTF-8.");
        }
        return null;
    }

    // A mark says more than a declaration: nobody writes one by accident.
    private static Encoding? Decoder(FileInspection inspection, FileEncoding declared) => inspection.Encoding switch
    {
        TextEncoding.Utf16LowFirst => new UnicodeEncoding(bigEndian: false, byteOrderMark: false, throwOnInvalidBytes: true),
        TextEncoding.Utf16HighFirst => new UnicodeEncoding(bigEndian: true, byteOrderMark: false, throwOnInvalidBytes: true),
        _ when inspection.MarkLength > 0 => null,
        _ => declared switch
        {
            FileEncoding.Latin1 => Encoding.GetEncoding("iso-8859-1", EncoderFallback.ExceptionFallback, DecoderFallback.ExceptionFallback),
            FileEncoding.Western => CodePagesEncodingProvider.Instance.GetEncoding(1252, EncoderFallback.ExceptionFallback, DecoderFallback.ExceptionFallback)!,
            _ => null,
        },
    };
}
