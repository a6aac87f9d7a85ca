using System.IO.Compression;
using System.Security;
using System.Text;

namespace RotationStudy.FaultStudies.Readers;

/// <summary>Writes the smallest workbook that holds a table, part by part, so that each part can be damaged.</summary>
internal static class Workbook
{
    private const string Head = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>";
    private const string Office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    private const string Package = "http://schemas.openxmlformats.org/package/2006/relationships";
    private const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";

    /// <summary>The bytes of a workbook with one sheet.</summary>
    internal static byte[] Of(IEnumerable<string[]> rows) => Zip(Parts(rows));

    /// <summary>The parts of a workbook with one sheet.</summary>
    internal static List<(string Name, byte[] Bytes)> Parts(IEnumerable<string[]> rows)
    {
        List<string> shared = [];
        StringBuilder sheet = new(Head + $"<worksheet xmlns=\"{Main}\"><sheetData>");
        int line = 0;
        foreach (string[] row in rows)
        {
            sheet.Append($"<row r=\"{++line}\">");
            for (int i = 0; i < row.Length; i++)
                sheet.Append(Cell($"{(char)('A' + i)}{line}", row[i], shared));
            sheet.Append("</row>");
        }
        sheet.Append("</sheetData></worksheet>");
        string texts = string.Concat(shared.Select(s => $"<si><t>{SecurityElement.Escape(s)}</t></si>"));
        return
        [
            Part("[Content_Types].xml", "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"xml\" ContentType=\"application/xml\"/></Types>"),
            Part("_rels/.rels", $"<Relationships xmlns=\"{Package}\"><Relationship Id=\"a\" Type=\"{Office}/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"),
            Part("xl/workbook.xml", $"<workbook xmlns=\"{Main}\" xmlns:r=\"{Office}\"><sheets><sheet name=\"Sheet\" sheetId=\"1\" r:id=\"b\"/></sheets></workbook>"),
            Part("xl/_rels/workbook.xml.rels", $"<Relationships xmlns=\"{Package}\"><Relationship Id=\"b\" Type=\"{Office}/worksheet\" Target=\"worksheets/sheet1.xml\"/><Relationship Id=\"c\" Type=\"{Office}/sharedStrings\" Target=\"sharedStrings.xml\"/></Relationships>"),
            Part("xl/sharedStrings.xml", $"<sst xmlns=\"{Main}\" count=\"{shared.Count}\" uniqueCount=\"{shared.Count}\">{texts}</sst>"),
            ("xl/worksheets/sheet1.xml", Encoding.UTF8.GetBytes(sheet.ToString())),
        ];
    }

    /// <summary>An archive of parts.</summary>
    internal static byte[] Zip(IEnumerable<(string Name, byte[] Bytes)> parts)
    {
        using MemoryStream stream = new();
        using (ZipArchive zip = new(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, byte[] bytes) in parts)
            {
                using Stream part = zip.CreateEntry(name, CompressionLevel.Fastest).Open();
                part.Write(bytes);
            }
        }
        return stream.ToArray();
    }

    private static (string Name, byte[] Bytes) Part(string name, string xml) => (name, Encoding.UTF8.GetBytes(Head + xml));

    private static string Cell(string place, string text, List<string> shared)
    {
        if (text.Length == 0)
            return string.Empty;
        if (text[0] == '#')
            return $"<c r=\"{place}\" t=\"e\"><v>{text}</v></c>";
        if (double.TryParse(text, System.Globalization.CultureInfo.InvariantCulture, out _))
            return $"<c r=\"{place}\"><v>{text}</v></c>";
        if (!shared.Contains(text))
            shared.Add(text);
        return $"<c r=\"{place}\" t=\"s\"><v>{shared.IndexOf(text)}</v></c>";
    }
}
