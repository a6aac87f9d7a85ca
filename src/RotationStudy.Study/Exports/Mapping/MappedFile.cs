using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports.Formats;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Exports.Mapping;

/// <summary>Reads a site's own file into rows of a table of the protocol: each row of the file becomes one row, or one of each kind that the mapping names.</summary>
internal static class MappedFile
{
    /// <summary>One file for each kind of row, or none when the file cannot be used; findings say why.</summary>
    /// <param name="path">Path of the file.</param>
    /// <param name="name">Name in findings, such as N/knees.xlsx.</param>
    /// <param name="mapping">How it is mapped.</param>
    /// <param name="table">Table of the protocol.</param>
    /// <param name="reading">Gathers what is at fault.</param>
    internal static IReadOnlyList<ExportFile> Read(string path, string name, TableMapping mapping, TableDefinition table, ExportReading reading)
    {
        try
        {
            using TableSource? source = RowFormat.Open(path, name, mapping.Layout, reading);
            if (source is null || !HeaderFits(source.Header, name, mapping, reading.Findings))
                return [];
            string[] header = [.. source.Header];
            int[] positions = [.. Wanted(mapping).Select(w => Array.FindIndex(header, h => Same(w, h))).Distinct(), .. Unmapped(header, mapping)];
            RawTable raw = source.Rows(name, positions, reading);
            List<ExportFile> files = [];
            foreach (ImmutableArray<ColumnMapping> added in mapping.RowsOrOne())
                files.Add(RowsOf(raw, name, mapping, added, table, reading.Findings) with { RaggedRows = files.Count == 0 ? raw.RaggedRows : 0 });
            files[0] = files[0] with { Undeclared = raw.Columns[(positions.Length - Unmapped(header, mapping).Length)..] };
            return files;
        }
        catch (UnreadableFileException e)
        {
            reading.Findings.Add(SourceTable.Unreadable(name, e));
            return [];
        }
    }

    /// <summary>Columns of the file that the mapping names.</summary>
    private static string[] Wanted(TableMapping mapping)
        => [.. mapping.RowsOrOne().SelectMany(r => mapping.Columns.Concat(r)).Select(c => c.From).OfType<string>().Distinct()];

    /// <summary>Columns that the mapping neither uses nor ignores: not read, but the guard against identifying data looks at them.</summary>
    private static int[] Unmapped(string[] header, TableMapping mapping)
    {
        string[] known = [.. Wanted(mapping), .. mapping.Ignore.Select(i => i.Name)];
        return [.. Enumerable.Range(0, header.Length).Where(i => !known.Any(k => Same(k, header[i])))];
    }

    private static bool HeaderFits(IReadOnlyList<string> header, string name, TableMapping mapping, List<Finding> findings)
    {
        string[] wanted = Wanted(mapping);
        string[] spare = [.. header.Where(h => h.Length > 0 && !wanted.Any(w => Same(w, h)))];
        foreach (string column in spare.Where(h => !mapping.Ignore.Any(i => Same(i.Name, h))))
        {
            findings.Add(CheckCatalog.MapUnmapped.At(
                name, 1, column, null, "a column of the mapping",
                $"The column '{column}' of {name} is not in the mapping of the site and was not read. Map it, or list it under 'ignore' with the reason."));
        }
        bool fits = true;
        foreach (string column in wanted)
        {
            int found = header.Count(h => Same(column, h));
            if (found == 1)
                continue;
            string what = found == 0 ? "has no column" : "has more than one column";
            string hint = found == 0 && NearestName.Of(column, spare) is { } near ? $"Is it the column called '{near}'?" : "Send the file as it was agreed, or correct the mapping.";
            findings.Add(CheckCatalog.MapAbsent.At(name, 1, column, null, $"a column '{column}'", $"{name} {what} '{column}', which the mapping of the site names. {hint}"));
            fits = false;
        }
        return fits;
    }

    // Case and blanks of a header are the first thing to change from one export to the next; the mapping still means the same column.
    private static bool Same(string a, string b) => string.Equals(Folded(a), Folded(b), StringComparison.OrdinalIgnoreCase);

    private static string Folded(string name) => string.Join(' ', name.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private static ExportFile RowsOf(
        RawTable raw, string name, TableMapping mapping, ImmutableArray<ColumnMapping> added, TableDefinition table, List<Finding> findings)
    {
        ColumnMapping[] maps = [.. mapping.Columns, .. added];
        RawColumn?[] sources = [.. maps.Select(m => m.From is null ? null : raw.Columns.First(c => Same(c.Name, m.From)))];
        byte[][]?[] texts = [.. maps.Zip(sources, (m, s) => s is null ? null : InWordsOfTheProtocol(s, m, table, mapping))];
        int[] own = [.. Enumerable.Range(mapping.Columns.Length, added.Length).Where(i => sources[i] is not null)];
        int[] rows = own.Length == 0 ? [.. Enumerable.Range(0, raw.Lines.Length)] : RowsWithValues(raw.Lines.Length, own, sources, texts);
        if (rows.Length < raw.Lines.Length)
            findings.Add(NoValues(name, table, added, raw.Lines.Length - rows.Length));
        return new ExportFile(
            table.Name, name, [.. maps.Select((m, i) => Column(m, sources[i], texts[i], rows))], [.. rows.Select(row => raw.Lines[row])], 0);
    }

    private static int[] RowsWithValues(int count, int[] own, RawColumn?[] sources, byte[][]?[] texts)
    {
        List<int> rows = new(count);
        for (int row = 0; row < count; row++)
        {
            foreach (int i in own)
            {
                if (texts[i]![sources[i]!.TextOf(row)].Length == 0)
                    continue;
                rows.Add(row);
                break;
            }
        }
        return [.. rows];
    }

    private static byte[][] InWordsOfTheProtocol(RawColumn column, ColumnMapping map, TableDefinition table, TableMapping mapping)
    {
        MappedCell cell = new(map, table.Column(map.Column)!, mapping);
        return [.. Enumerable.Range(0, column.Texts).Select(t => cell.Of(column.Utf8(t)))];
    }

    private static RawColumn Column(ColumnMapping mapping, RawColumn? source, byte[][]? texts, int[] rows)
    {
        RawColumnBuilder column = new(mapping.Column);
        if (source is not null)
        {
            column.AddOf(source, rows, text => texts![text]);
            return column.Build();
        }
        int always = column.NumberOf(Encoding.UTF8.GetBytes(mapping.Always ?? string.Empty));
        for (int i = 0; i < rows.Length; i++)
            column.AddNumber(always);
        return column.Build();
    }

    private static Finding NoValues(string name, TableDefinition table, ImmutableArray<ColumnMapping> added, int rows)
    {
        string which = string.Join(", ", added.Where(c => c.Always is not null).Select(c => $"{c.Column} {c.Always}"));
        return CheckCatalog.MapNoValues.InFile(
            name, "at least one value",
            string.Create(CultureInfo.InvariantCulture, $"{rows} rows of {name} have no value for {which}: no row of {table.Name} was made of them."));
    }
}
