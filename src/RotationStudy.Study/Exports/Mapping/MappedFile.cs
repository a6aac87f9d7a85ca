using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports.Formats;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Exports.Mapping;

/// <summary>Reads a site's own file into rows of a table of the protocol: one pass for each row that a row of the file becomes.</summary>
internal static class MappedFile
{
    private const int RowsBetweenLooks = 4096;

    /// <summary>One file for each kind of row, or none when the file cannot be used; findings say why.</summary>
    /// <param name="path">Path of the file.</param>
    /// <param name="name">Name in findings, such as N/knees.xlsx.</param>
    /// <param name="mapping">How it is mapped.</param>
    /// <param name="table">Table of the protocol.</param>
    /// <param name="findings">Gathers what is at fault.</param>
    /// <param name="cancellation">Ends the reading early.</param>
    internal static IReadOnlyList<ExportFile> Read(
        string path, string name, TableMapping mapping, TableDefinition table, List<Finding> findings, CancellationToken cancellation)
    {
        List<ExportFile> files = [];
        try
        {
            foreach (ImmutableArray<ColumnMapping> added in mapping.RowsOrOne())
            {
                using RowSource source = RowFormat.Open(path, mapping.Layout);
                if (files.Count == 0 && !HeaderFits(source.Header, name, mapping, findings))
                    return [];
                files.Add(ReadRows(source, name, mapping, added, table, files.Count == 0, findings, cancellation));
            }
        }
        catch (UnreadableFileException e)
        {
            findings.Add(SourceTable.Unreadable(name, e));
            return [];
        }
        return files;
    }

    /// <summary>Columns that the mapping neither uses nor ignores: not read, but the guard against identifying data looks at them.</summary>
    private static int[] Unmapped(string[] header, TableMapping mapping)
    {
        string[] known = [.. mapping.RowsOrOne().SelectMany(r => mapping.Columns.Concat(r)).Select(c => c.From).OfType<string>(), .. mapping.Ignore.Select(i => i.Name)];
        return [.. Enumerable.Range(0, header.Length).Where(i => !known.Any(k => Same(k, header[i])))];
    }

    private static bool HeaderFits(IReadOnlyList<string> header, string name, TableMapping mapping, List<Finding> findings)
    {
        string[] wanted = [.. mapping.RowsOrOne().SelectMany(r => mapping.Columns.Concat(r)).Select(c => c.From).OfType<string>().Distinct()];
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

    private static ExportFile ReadRows(
        RowSource source, string name, TableMapping mapping, ImmutableArray<ColumnMapping> added, TableDefinition table, bool first,
        List<Finding> findings, CancellationToken cancellation)
    {
        string[] header = [.. source.Header];
        ColumnMapping[] maps = [.. mapping.Columns, .. added];
        MappedCell[] cells = [.. maps.Select(m => new MappedCell(m, table.Column(m.Column)!, mapping, m.From is null ? -1 : Array.FindIndex(header, h => Same(m.From, h))))];
        RawColumnBuilder[] columns = [.. maps.Select(m => new RawColumnBuilder(m.Column))];
        ImmutableArray<int>.Builder lines = ImmutableArray.CreateBuilder<int>();
        int[] others = first ? Unmapped(header, mapping) : [];
        RawColumnBuilder[] undeclared = [.. others.Select(p => new RawColumnBuilder(header[p]))];
        int[] own = [.. Enumerable.Range(mapping.Columns.Length, added.Length).Where(i => cells[i].Position >= 0)];
        (int read, int ragged, int without) = (0, 0, 0);
        while (source.Read())
        {
            if (read++ % RowsBetweenLooks == 0)
                cancellation.ThrowIfCancellationRequested();
            if (source.Cells != header.Length)
            {
                if (first)
                    findings.Add(SourceTable.Ragged(name, source.Line, source.Cells, header.Length));
                ragged += first ? 1 : 0;
                continue;
            }
            if (own.Length > 0 && Empty(own, cells, source))
            {
                without++;
                continue;
            }
            lines.Add(source.Line);
            for (int c = 0; c < cells.Length; c++)
                columns[c].Add(cells[c].Of(source));
            for (int c = 0; c < others.Length; c++)
                undeclared[c].Add(source.Cell(others[c]));
        }
        if (without > 0)
            findings.Add(NoValues(name, table, added, without));
        return new ExportFile(table.Name, name, [.. columns.Select(c => c.Build())], lines.DrainToImmutable(), ragged)
        {
            Undeclared = [.. undeclared.Select(c => c.Build())],
        };
    }

    private static bool Empty(int[] own, MappedCell[] cells, RowSource source)
    {
        foreach (int i in own)
        {
            if (!cells[i].Of(source).IsEmpty)
                return false;
        }
        return true;
    }

    private static Finding NoValues(string name, TableDefinition table, ImmutableArray<ColumnMapping> added, int rows)
    {
        string which = string.Join(", ", added.Where(c => c.Always is not null).Select(c => $"{c.Column} {c.Always}"));
        return CheckCatalog.MapNoValues.InFile(
            name, "at least one value",
            string.Create(CultureInfo.InvariantCulture, $"{rows} rows of {name} have no value for {which}: no row of {table.Name} was made of them."));
    }
}
