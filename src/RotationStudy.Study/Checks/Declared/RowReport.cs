namespace RotationStudy.Study.Checks.Declared;

/// <summary>Takes what one check has to say about rows of one table.</summary>
internal sealed class RowReport(CheckRule rule, TableDraft table, CheckedRows rows)
{
    private bool setAside;

    /// <summary>A finding about a row: what was found, then the sentence of the protocol.</summary>
    internal void Add(int row, DraftColumn? column, string expected, string found)
    {
        string end = rule.Severity == Severity.SetAside ? " The row is set aside." : string.Empty;
        rows.Findings.Add(rule, table, row, column, expected, $"{found} {rule.Explanation}{end}");
        if (rule.Severity != Severity.SetAside)
            return;
        table.SetAside(row, rule);
        setAside = true;
    }

    /// <summary>A finding about a column of the file.</summary>
    internal void AddToFile(DraftColumn column, string value, string expected, string found)
        => rows.Findings.Add(rule.At(table.Definition.File, 0, column.Definition.Name, value, expected, $"{found} {rule.Explanation}"));

    /// <summary>Takes rows that were set aside out of those that follow.</summary>
    internal void Finish()
    {
        if (setAside)
            table.Order = Array.FindAll(table.Order, table.IsKept);
    }
}
