using System.Collections.Immutable;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports.Mapping;

/// <summary>Puts the files of one table together, remembering which rows came from where.</summary>
internal static class JoinedFile
{
    /// <summary>One file of all rows; null when there is none.</summary>
    internal static ExportFile? Of(TableDefinition table, IReadOnlyList<ExportFile> files)
    {
        if (files.Count < 2)
            return files.Count == 0 ? null : files[0];
        ImmutableArray<RawColumn>.Builder columns = ImmutableArray.CreateBuilder<RawColumn>();
        foreach (string name in table.Columns.Select(c => c.Name).Where(n => files.Any(f => f.Column(n) is not null)))
        {
            RawColumnBuilder joined = new(name);
            foreach (ExportFile file in files)
                Append(joined, file.Column(name), file.Rows);
            columns.Add(joined.Build());
        }
        ImmutableArray<FilePart>.Builder parts = ImmutableArray.CreateBuilder<FilePart>();
        int row = 0;
        foreach (ExportFile file in files)
        {
            parts.Add(new FilePart(file.Name, row));
            row += file.Rows;
        }
        return new ExportFile(table.Name, table.File, columns.ToImmutable(), [.. files.SelectMany(f => f.Lines)], files.Sum(f => f.RaggedRows)) { Parts = parts.ToImmutable() };
    }

    private static void Append(RawColumnBuilder joined, RawColumn? column, int rows)
    {
        if (column is not null)
        {
            joined.AddOf(column, Enumerable.Range(0, rows), text => column.Utf8(text).ToArray());
            return;
        }
        for (int row = 0; row < rows; row++)
            joined.Add([]);
    }
}
