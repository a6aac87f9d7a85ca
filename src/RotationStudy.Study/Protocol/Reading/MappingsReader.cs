using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads the folder mappings of a protocol: one site per file.</summary>
internal static class MappingsReader
{
    private const string Folder = "mappings";

    /// <summary>Names of the files, relative to the protocol folder, in ordinal order; none where there is no such folder.</summary>
    internal static IEnumerable<string> FilesOf(string protocolFolder)
    {
        string folder = Path.Combine(protocolFolder, Folder);
        return Directory.Exists(folder)
            ? Directory.EnumerateFiles(folder, "*.yaml").Select(p => $"{Folder}/{Path.GetFileName(p)}").Order(StringComparer.Ordinal)
            : [];
    }

    internal static SiteMapping Read(YamlSection top, string file)
    {
        string site = top.Text("site");
        top.Need("tables", "List the tables that the site sends.");
        ImmutableArray<TableMapping> tables = [.. top.Owners("tables", "mapped table").Select(ReadTable)];
        if (site.Length > 0 && $"{Folder}/{site}.yaml" != file)
            top.Fault("site", $"The mapping of site '{site}' stands in the file '{file}'.", $"Call the file {site}.yaml, so that it is found by its name.");
        top.Close();
        return new SiteMapping(site, tables, PlaceBook.TopOf(file));
    }

    private static TableMapping ReadTable(YamlSection s)
    {
        FileLayout layout = new(
            s.OptionalText("sheet"),
            s.Word("separator", CellSeparator.Comma) switch
            {
                CellSeparator.Semicolon => ';',
                CellSeparator.Tab => '\t',
                CellSeparator.Stroke => '|',
                _ => ',',
            },
            s.Word("encoding", FileEncoding.Utf8),
            s.FlagOrFalse("decimal_comma"));
        TableMapping table = new(
            s.Text("table"), s.Text("file"), layout, s.Texts("missing"),
            ReadColumns(s), [.. s.Owners("rows", "mapped row").Select(ReadRow)], ReadIgnored(s), s.Place);
        s.Close();
        return table;
    }

    private static RowMapping ReadRow(YamlSection s)
    {
        s.Need("columns", "List what this row has beside the columns of every row.");
        RowMapping row = new(ReadColumns(s), s.Place);
        s.Close();
        return row;
    }

    private static ImmutableArray<ColumnMapping> ReadColumns(YamlSection s) => [.. s.Owners("columns", "mapped column").Select(ReadColumn)];

    private static ColumnMapping ReadColumn(YamlSection s)
    {
        ColumnMapping column = new(
            s.Text("column"), s.OptionalText("from"), s.OptionalText("always"), s.OptionalText("unit"),
            [.. s.Sections("codes").Select(ReadCode)], s.Place);
        if (column.From is null == column.Always is null)
            s.Fault("column", $"'{column.Column}' needs either 'from' or 'always'.", "Give the name of the site's column, or the value that every row has.");
        s.Close();
        return column;
    }

    private static CodeTranslation ReadCode(YamlSection s)
    {
        CodeTranslation code = new(s.Text("from"), s.Text("to"));
        s.Close();
        return code;
    }

    private static ImmutableArray<IgnoredColumn> ReadIgnored(YamlSection s)
    {
        ImmutableArray<IgnoredColumn>.Builder ignored = ImmutableArray.CreateBuilder<IgnoredColumn>();
        foreach (YamlSection column in s.Sections("ignore"))
        {
            ignored.Add(new IgnoredColumn(column.Text("name"), column.Text("reason")));
            column.Close();
        }
        return ignored.ToImmutable();
    }
}
