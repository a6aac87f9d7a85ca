using System.Collections.Immutable;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks;

/// <summary>A table while it is being checked: judged columns, and for each row the rule that set it aside, if any.</summary>
internal sealed class TableDraft
{
    private readonly CheckRule?[] setAside;
    private readonly ImmutableArray<int> lines;
    private readonly ExportFile file;

    internal TableDraft(TableDefinition definition, ExportFile file)
    {
        Definition = definition;
        RaggedRows = file.RaggedRows;
        WithdrawnRows = file.WithdrawnRows;
        lines = file.Lines;
        this.file = file;
        setAside = new CheckRule?[file.Rows];
        DraftColumn[] columns = new DraftColumn[definition.Columns.Length];
        Parallel.For(0, columns.Length, i => columns[i] = new DraftColumn(definition.Columns[i], file.Column(definition.Columns[i].Name)));
        Columns = [.. columns];
        Key = [.. definition.Key.Select(k => Columns.First(c => c.Definition.Name == k))];
        Order = Enumerable.Range(0, file.Rows).ToArray();
    }

    internal TableDefinition Definition { get; }

    internal ImmutableArray<DraftColumn> Columns { get; }

    internal ImmutableArray<DraftColumn> Key { get; }

    internal int RaggedRows { get; }

    internal int WithdrawnRows { get; }

    internal int Rows => setAside.Length;

    /// <summary>The kept rows in order of their key, once duplicates have been looked for.</summary>
    internal int[] Order { get; set; }

    internal DraftColumn? Column(ColumnRole role) => Columns.FirstOrDefault(c => c.Definition.Role == role);

    /// <summary>The column of that name.</summary>
    internal DraftColumn Named(string name) => Columns.First(c => c.Definition.Name == name);

    internal bool IsKept(int row) => setAside[row] is null;

    /// <summary>The kept rows in the order of the file.</summary>
    internal IEnumerable<int> Kept()
    {
        for (int row = 0; row < setAside.Length; row++)
        {
            if (setAside[row] is null)
                yield return row;
        }
    }

    internal int Line(int row) => lines[row];

    /// <summary>The file that a row comes from.</summary>
    internal string File(int row) => file.FileOf(row);

    /// <summary>Leaves a row out. The first rule to do so is the one that the account names.</summary>
    internal void SetAside(int row, CheckRule rule) => setAside[row] ??= rule;

    internal CheckRule? RuleOf(int row) => setAside[row];
}
