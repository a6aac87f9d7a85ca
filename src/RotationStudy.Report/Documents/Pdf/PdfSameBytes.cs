using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;

namespace RotationStudy.Report.Documents.Pdf;

/// <summary>Takes what changes from run to run out of a PDF: dates, random identifiers and the random prefix of embedded fonts.</summary>
/// <remarks>
/// Every replacement is as long as what it replaces, so that the table of places at the end of the file stays right. Dates become
/// blanks (a file without a date is valid); identifiers come from a hash of the file.
/// </remarks>
internal static partial class PdfSameBytes
{
    private const string Prefix = "AAAAA";

    internal static byte[] Settle(byte[] pdf)
    {
        // Latin-1 keeps each byte as one character, compressed streams included.
        string text = Encoding.Latin1.GetString(pdf);
        Dictionary<string, char> fonts = new(StringComparer.Ordinal);
        text = FontName().Replace(text, m =>
        {
            if (!fonts.TryGetValue(m.Groups[2].Value, out char letter))
                fonts.Add(m.Groups[2].Value, letter = (char)('A' + fonts.Count));
            return $"{m.Groups[1].Value}{Prefix}{letter}+";
        });
        text = InfoDate().Replace(text, m => new string(' ', m.Length));
        text = MetadataDate().Replace(text, m => m.Groups[1].Value + new string(' ', m.Groups[2].Length) + m.Groups[3].Value);
        text = Uuid().Replace(text, m => m.Groups[1].Value + new string('0', m.Groups[2].Length));
        text = FileId().Replace(text, m => m.Groups[1].Value + new string('0', 32) + m.Groups[3].Value + new string('0', 32) + m.Groups[5].Value);
        string hash = Convert.ToHexString(SHA256.HashData(Encoding.Latin1.GetBytes(text)));
        string uuid = $"{hash[..8]}-{hash[8..12]}-{hash[12..16]}-{hash[16..20]}-{hash[20..32]}".ToLowerInvariant();
        text = Uuid().Replace(text, m => m.Groups[1].Value + uuid);
        text = FileId().Replace(text, m => m.Groups[1].Value + hash[32..] + m.Groups[3].Value + hash[32..] + m.Groups[5].Value);
        return Encoding.Latin1.GetBytes(text);
    }

    [GeneratedRegex("(/(?:BaseFont|FontName)/)([A-Z]{6})\\+")]
    private static partial Regex FontName();

    [GeneratedRegex("/(?:CreationDate|ModDate)\\(D:[^)]*\\)")]
    private static partial Regex InfoDate();

    [GeneratedRegex("(<xmp:(?:CreateDate|ModifyDate|MetadataDate)>)([^<]*)(<)")]
    private static partial Regex MetadataDate();

    [GeneratedRegex("(uuid:)([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})")]
    private static partial Regex Uuid();

    [GeneratedRegex("(/ID\\[<)([0-9A-F]{32})(><)([0-9A-F]{32})(>\\])")]
    private static partial Regex FileId();
}
