using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Across;

/// <summary>Lists examinations with a hip that is painful, restricted or was not examined, for the clinical team.</summary>
/// <remarks>
/// Sources: practice guidance on slipped capital femoral epiphysis asks for the hip to be examined in an adolescent with knee
/// pain and for anteroposterior and frog-lateral images of the pelvis; recalled, not re-read. The sentence defers to local
/// protocol.
/// </remarks>
internal static class HipFirstRule
{
    internal static void Apply(ExportDraft export, HipGate? gate, FindingList findings)
    {
        if (gate is null || export.Tables.FirstOrDefault(t => t.Definition.Name == gate.Table) is not { } table)
            return;
        DraftColumn column = table.Named(gate.Column);
        TableDraft? list = gate.Cleared is null ? null : export.Tables.FirstOrDefault(t => t.Definition.Name == gate.Cleared);
        HashSet<(string, string, string)> cleared = list is null ? [] : [.. list.Order.Select(row => Key(list, row, bySide: true))];
        bool bySide = list?.Column(ColumnRole.Side) is not null;
        foreach (int row in table.Order)
        {
            string? code = column[row].HasValue ? column.Definition.Codes[column[row].Code].Code : null;
            if ((code is not null && gate.ClearCodes.Contains(code)) || cleared.Contains(Key(table, row, bySide)))
                continue;
            string what = code is null ? "not recorded" : column.Definition.Codes[column[row].Code].Meaning;
            findings.Add(
                CheckCatalog.HipFirst, table, row, column, string.Join(" or ", gate.ClearCodes),
                $"The hip is {what}. Examine hip; consider AP and frog-lateral pelvis; defer to local protocol. "
                    + "The rotational profile of this visit is set aside until the hip is cleared.");
        }
    }

    private static (string Participant, string Visit, string Side) Key(TableDraft table, int row, bool bySide)
        => (table.Column(ColumnRole.Participant)!.KeyText(row), table.Column(ColumnRole.Visit)!.KeyText(row),
            bySide && table.Column(ColumnRole.Side) is { } side ? side.KeyText(row) : string.Empty);
}
