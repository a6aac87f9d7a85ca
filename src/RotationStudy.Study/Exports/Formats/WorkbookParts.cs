using System.IO.Compression;
using System.Xml;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>What is looked up in the parts of a workbook beside its values: their sizes, and cells whose formula failed.</summary>
/// <remarks>The library that reads the values gives an empty cell where a formula failed; an empty cell and a failed one are not the same.</remarks>
internal static class WorkbookParts
{
    private const long MostBytes = 4L << 30;
    private const long FreeOfRatio = 64L << 20;
    private const long MostRatio = 200;
    private const int MostParts = 10_000;

    private static readonly XmlReaderSettings Plain = new() { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null, IgnoreWhitespace = true };

    /// <summary>Refuses a workbook that unpacks beyond measure, before anything of it is unpacked.</summary>
    /// <exception cref="UnreadableFileException">It does.</exception>
    internal static void RequireMeasure(ZipArchive parts)
    {
        // The sizes stated in an archive are not exceeded while it is unpacked: the unpacking ends there.
        if (parts.Entries.Count > MostParts
            || parts.Entries.Sum(p => Math.Min(p.Length, MostBytes)) > MostBytes
            || parts.Entries.Any(p => p.Length > FreeOfRatio && p.Length / MostRatio > p.CompressedLength))
            throw new UnreadableFileException("it unpacks to more than any workbook needs");
    }

    /// <summary>The errors of a sheet by row (from 1) and column (from 0), as they are shown.</summary>
    internal static Dictionary<(int Row, int Column), string> Errors(ZipArchive parts, string sheet)
    {
        Dictionary<(int, int), string> errors = [];
        if (Part(parts, sheet) is not { } part || !MayHaveErrors(part))
            return errors;
        using Stream stream = part.Open();
        using XmlReader xml = XmlReader.Create(stream, Plain);
        (int row, int column) = (0, -1);
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element)
                continue;
            if (xml.LocalName == "row")
                (row, column) = (int.TryParse(xml.GetAttribute("r"), out int stated) ? stated : row + 1, -1);
            if (xml.LocalName != "c")
                continue;
            column = ColumnOf(xml.GetAttribute("r")) ?? column + 1;
            if (xml.GetAttribute("t") == "e" && !xml.IsEmptyElement)
                errors[(row, column)] = ValueOf(xml);
        }
        return errors;
    }

    private static string ValueOf(XmlReader cell)
    {
        int depth = cell.Depth;
        while (cell.Read() && cell.Depth > depth)
        {
            if (cell is { NodeType: XmlNodeType.Element, LocalName: "v", IsEmptyElement: false } && cell.Read())
                return cell.NodeType == XmlNodeType.Text && cell.Value.Trim() is { Length: > 0 } text ? text : "#ERROR!";
        }
        return "#ERROR!";
    }

    // Letters of a place such as BC12, counted from 0.
    private static int? ColumnOf(string? place)
    {
        int column = 0;
        foreach (char letter in place ?? string.Empty)
        {
            if (!char.IsAsciiLetterUpper(letter) || column > 1 << 20)
                break;
            column = (column * 26) + letter - 'A' + 1;
        }
        return column == 0 ? null : column - 1;
    }

    private static bool MayHaveErrors(ZipArchiveEntry part)
    {
        byte[] buffer = new byte[1 << 16];
        ReadOnlySpan<byte> wanted = "t=\"e\""u8;
        ReadOnlySpan<byte> orWanted = "t='e'"u8;
        using Stream stream = part.Open();
        int kept = 0;
        for (int got = stream.Read(buffer); got > 0; got = stream.Read(buffer.AsSpan(kept)))
        {
            ReadOnlySpan<byte> text = buffer.AsSpan(0, kept + got);
            if (text.IndexOf(wanted) >= 0 || text.IndexOf(orWanted) >= 0 || text.IndexOf((byte)0) >= 0)
                return true;
            kept = Math.Min(wanted.Length - 1, text.Length);
            text[^kept..].CopyTo(buffer);
        }
        return false;
    }

    private static ZipArchiveEntry? Part(ZipArchive parts, string sheet)
    {
        string? id = Attributes(parts, "xl/workbook.xml", "sheet")
            .FirstOrDefault(a => string.Equals(a.GetValueOrDefault("name"), sheet, StringComparison.Ordinal))?.GetValueOrDefault("id");
        string? target = Attributes(parts, "xl/_rels/workbook.xml.rels", "Relationship")
            .FirstOrDefault(a => a.GetValueOrDefault("Id") == id)?.GetValueOrDefault("Target");
        if (id is null || target is null)
            return null;
        return Entry(parts, target.StartsWith('/') ? target[1..] : "xl/" + target);
    }

    private static ZipArchiveEntry? Entry(ZipArchive parts, string name)
        => parts.Entries.FirstOrDefault(e => string.Equals(e.FullName.Replace('\\', '/'), name, StringComparison.OrdinalIgnoreCase));

    /// <summary>The attributes of each element of a name, by their local names.</summary>
    private static List<Dictionary<string, string>> Attributes(ZipArchive parts, string name, string element)
    {
        List<Dictionary<string, string>> found = [];
        if (Entry(parts, name) is not { } part)
            return found;
        using Stream stream = part.Open();
        using XmlReader xml = XmlReader.Create(stream, Plain);
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element || xml.LocalName != element)
                continue;
            Dictionary<string, string> attributes = new(StringComparer.Ordinal);
            while (xml.MoveToNextAttribute())
                attributes[xml.LocalName] = xml.Value;
            found.Add(attributes);
        }
        return found;
    }
}
