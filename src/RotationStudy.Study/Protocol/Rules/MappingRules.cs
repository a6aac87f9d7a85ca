using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of site mappings: tables, columns, units and codes that they name exist, and nothing is mapped twice.</summary>
internal static class MappingRules
{
    private static readonly string[] Endings = [".csv", ".txt", ".xlsx", ".parquet", ".json"];

    internal static void Check(RuleContext context)
    {
        foreach (SiteMapping mapping in context.Protocol.Mappings)
        {
            if (mapping.Site.Length > 0 && context.Protocol.Study.Sites.All(s => s.Id != mapping.Site))
            {
                context.Fault(
                    mapping.Place, "site", $"There is no site '{mapping.Site}' in study.yaml.",
                    NearestName.Hint(mapping.Site, [.. context.Protocol.Study.Sites.Select(s => s.Id)]));
            }
            foreach (TableMapping table in mapping.Tables)
                Check(table, context);
        }
    }

    private static void Check(TableMapping mapping, RuleContext context)
    {
        if (context.Protocol.Tables.FirstOrDefault(t => t.Name == mapping.Table) is not { } table)
        {
            context.Fault(
                mapping.Place, "table", $"There is no table '{mapping.Table}'.",
                NearestName.Hint(mapping.Table, [.. context.Protocol.Tables.Select(t => t.Name)]));
            return;
        }
        if (!Endings.Contains(Path.GetExtension(mapping.File).ToLowerInvariant()) || Path.GetFileName(mapping.File) != mapping.File)
            context.Fault(mapping.Place, "file", $"'{mapping.File}' is no file name that can be read.", "Give a plain name that ends with .csv, .xlsx, .parquet or .json.");
        foreach (IEnumerable<ColumnMapping> row in mapping.RowsOrOne().Select(r => mapping.Columns.Concat(r)))
            CheckRow([.. row], mapping, table, context);
    }

    private static void CheckRow(ColumnMapping[] row, TableMapping mapping, TableDefinition table, RuleContext context)
    {
        foreach (ColumnMapping column in row)
            Check(column, table, context);
        foreach (IGrouping<string, ColumnMapping> twice in row.GroupBy(c => c.Column).Where(g => g.Count() > 1))
            context.Fault(twice.Last().Place, "column", $"The column '{twice.Key}' is mapped twice for one row.", "Keep one of the two.");
        foreach (string key in table.Key.Where(k => row.All(c => c.Column != k)))
            context.Fault(mapping.Place, "columns", $"The key column '{key}' of {table.Name} is not mapped.", "Say which column it comes from, or what it always is.");
    }

    private static void Check(ColumnMapping mapping, TableDefinition table, RuleContext context)
    {
        if (table.Column(mapping.Column) is not { } column)
        {
            context.Fault(
                mapping.Place, "column", $"The table {table.Name} has no column '{mapping.Column}'.",
                NearestName.Hint(mapping.Column, [.. table.Columns.Select(c => c.Name)]));
            return;
        }
        if (mapping.Unit is { } unit && (column.Unit is null || !UnitConversion.Alternatives(column.Unit).Contains(unit)))
        {
            context.Fault(
                mapping.Place, "unit", $"'{unit}' cannot be converted to the unit of '{column.Name}' ({column.Unit ?? "none"}).",
                column.Unit is null ? "Leave the unit out." : $"Use one of {string.Join(", ", UnitConversion.Alternatives(column.Unit))}.");
        }
        CheckCodes(mapping, column, context);
    }

    private static void CheckCodes(ColumnMapping mapping, ColumnDefinition column, RuleContext context)
    {
        if (column.Type != ColumnType.Code)
            return;
        string[] allowed = [.. column.Codes.Concat(column.MissingCodes).Select(c => c.Code)];
        foreach (string code in mapping.Codes.Select(c => c.To).Concat(mapping.Always is { } always ? [always] : []))
        {
            if (!allowed.Contains(code))
                context.Fault(mapping.Place, "codes", $"'{code}' is no code of '{column.Name}'.", NearestName.Hint(code, allowed));
        }
        foreach (IGrouping<string, CodeTranslation> twice in mapping.Codes.GroupBy(c => c.From).Where(g => g.Count() > 1))
            context.Fault(mapping.Place, "codes", $"The site's code '{twice.Key}' stands twice.", "Keep one of the two.");
    }
}
