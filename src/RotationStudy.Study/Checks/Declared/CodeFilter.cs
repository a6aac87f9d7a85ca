using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>Whether a row fulfils a condition, decided once per distinct text.</summary>
internal readonly struct CodeFilter
{
    private readonly DraftColumn? column;
    private readonly bool[] ofText;

    internal CodeFilter(TableDraft table, RowCondition? condition)
    {
        column = condition is null ? null : table.Named(condition.Column);
        ofText = new bool[column?.Texts ?? 0];
        for (int text = 0; text < ofText.Length; text++)
        {
            ref readonly Cells.Verdict verdict = ref column!.VerdictOfText(text);
            ofText[text] = verdict.HasValue && condition!.Codes.Contains(column.Definition.Codes[verdict.Code].Code);
        }
    }

    internal bool Holds(int row) => column is null || ofText[column.TextOf(row)];
}
