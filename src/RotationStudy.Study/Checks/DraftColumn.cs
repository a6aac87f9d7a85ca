using RotationStudy.Study.Checks.Cells;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks;

/// <summary>A column while it is being checked: the raw cells and what each of their texts comes to.</summary>
internal sealed class DraftColumn
{
    private readonly RawColumn? raw;
    private readonly Verdict[] verdicts;
    private readonly Dictionary<int, string> shown = [];

    internal DraftColumn(ColumnDefinition definition, RawColumn? raw)
    {
        Definition = definition;
        this.raw = raw;
        // A column that the file lacks has one verdict, for every row.
        verdicts = raw is null ? [Verdict.NoValue(CellJudge.ColumnAbsent)] : CellJudge.Judge(definition, raw);
    }

    internal ColumnDefinition Definition { get; }

    internal bool IsAbsent => raw is null;

    /// <summary>Number of distinct texts.</summary>
    internal int Texts => verdicts.Length;

    /// <summary>Number of the text of a row.</summary>
    internal int TextOf(int row) => raw is null ? 0 : raw.TextOf(row);

    internal ref readonly Verdict VerdictOfText(int text) => ref verdicts[text];

    internal ref readonly Verdict this[int row] => ref verdicts[TextOf(row)];

    /// <summary>The cell as the export writes it, kept so that a fault of many rows costs one text.</summary>
    internal string Shown(int row)
    {
        if (raw is null)
            return string.Empty;
        int text = raw.TextOf(row);
        if (!shown.TryGetValue(text, out string? visible))
            shown.Add(text, visible = CellJudge.Visible(raw.Text(text)));
        return visible;
    }

    /// <summary>The value as a key is written: identifier, code or number.</summary>
    internal string KeyText(int row)
    {
        ref readonly Verdict verdict = ref this[row];
        return Definition.Type switch
        {
            ColumnType.Identifier => verdict.Identifier,
            ColumnType.Code => verdict.HasValue ? Definition.Codes[verdict.Code].Code : string.Empty,
            _ => FormattableString.Invariant($"{verdict.Number}"),
        };
    }
}
