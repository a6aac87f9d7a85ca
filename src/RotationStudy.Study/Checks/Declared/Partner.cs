using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>A row without the row of another table, or of the other side, that belongs to it.</summary>
internal static class Partner
{
    internal static void Apply(PartnerCheck check, TableDraft table, CheckedRows rows, RowReport report)
    {
        if (rows.Table(check.Other) is not { } other)
            return;
        bool byVisit = check.Match.Contains(ColumnRole.Visit);
        bool bySide = check.Match.Contains(ColumnRole.Side);
        CodeFilter otherWhen = new(other, check.OtherWhen);
        long[] otherLinks = rows.Links(other, byVisit, bySide);
        HashSet<long> known = new(other.Order.Length);
        foreach (int row in other.Order)
        {
            if (otherWhen.Holds(row))
                known.Add(otherLinks[row]);
        }
        CodeFilter when = new(table, check.When);
        long[] links = rows.Links(table, byVisit, bySide, check.OtherSide);
        foreach (int row in table.Order)
        {
            if (links[row] < 0 || !when.Holds(row) || known.Contains(links[row]))
                continue;
            string which = check.OtherSide ? " of the other side" : string.Empty;
            report.Add(row, null, $"a row of {other.Definition.File}{which}", $"{other.Definition.File} has no usable row{which} that belongs to this one.");
        }
    }
}
