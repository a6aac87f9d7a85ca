using RotationStudy.Study.Checks.Cells;

namespace RotationStudy.Study.Checks.Rows;

/// <summary>Reports the cells to which a rule objects, and the required ones that are empty.</summary>
/// <remarks>
/// A row with an unusable key is set aside, and so is one dated before enrolment; elsewhere an unusable value is set
/// aside and the row is kept. In the roster a day belongs to the participant, whose row is kept.
/// </remarks>
internal static class CellRule
{
    internal static void Apply(TableDraft table, FindingList findings)
    {
        // Key columns come first and in order, so that the account names the first part of the key that fails.
        foreach (DraftColumn column in table.Key.Concat(table.Columns.Except(table.Key)))
        {
            if (Remarks(table, column) is not { } remarks)
                continue;
            for (int row = 0; row < table.Rows; row++)
            {
                if (remarks[column.TextOf(row)] is not { } remark)
                    continue;
                findings.Add(remark.Rule, table, row, column, remark.Expected, remark.Message);
                if (remark.LosesRow)
                    table.SetAside(row, remark.Rule);
            }
        }
    }

    /// <summary>What there is to say about each text of the column; null when there is nothing at all.</summary>
    private static Remark?[]? Remarks(TableDraft table, DraftColumn column)
    {
        bool isKey = table.Key.Contains(column);
        Remark?[] remarks = new Remark?[column.Texts];
        bool any = false;
        for (int text = 0; text < remarks.Length; text++)
        {
            Verdict verdict = column.VerdictOfText(text);
            Objection? objection = verdict.Objection ?? (verdict.HasValue ? null : OfMissing(column, verdict.Missing!, isKey));
            if (objection is null)
                continue;
            remarks[text] = WithConsequence(objection, isKey, table.Definition.IsRoster);
            any = true;
        }
        return any ? remarks : null;
    }

    private static Objection? OfMissing(DraftColumn column, string reason, bool isKey)
    {
        string name = column.Definition.Name;
        if (isKey)
        {
            return new Objection(
                CheckCatalog.KeyMissing, $"a value of '{name}'",
                $"'{name}' is missing ({reason}), so the row belongs nowhere.");
        }
        if (!column.Definition.Required || reason != CellJudge.NotRecorded)
            return null;
        string codes = string.Join(", ", column.Definition.MissingCodes.Select(c => $"{c.Code} for {c.Meaning}"));
        string hint = codes.Length == 0 ? "Please fill it in." : $"Please fill it in, or write {codes}.";
        return new Objection(CheckCatalog.ValueRequired, "a value", $"'{name}' is empty. {hint}");
    }

    private static Remark WithConsequence(Objection objection, bool isKey, bool isRoster)
    {
        bool losesValue = objection.Rule.Severity == Severity.SetAside;
        bool losesRow = losesValue && (isKey || (objection.Rule == CheckCatalog.DayBeforeEnrolment && !isRoster));
        string consequence = losesRow ? " The row is set aside." : losesValue ? " The value is set aside, the row is kept." : string.Empty;
        return new Remark(objection.Rule, objection.Expected, objection.What + consequence, losesRow);
    }

    private sealed record Remark(CheckRule Rule, string Expected, string Message, bool LosesRow);
}
