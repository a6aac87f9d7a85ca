namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of the tables: names, files, keys, roles.</summary>
internal static class TableRules
{
    internal static void Check(RuleContext context)
    {
        var tables = context.Protocol.Tables;
        context.Unique(tables.Select(t => (t.Name, t.Place, "name")), "table");
        context.Unique(tables.Select(t => (t.File, t.Place, "file")), "file");
        foreach (TableDefinition table in tables)
        {
            context.PlainName(table.Name, table.Place, "name");
            CheckFile(table, context);
            CheckKey(table, context);
            CheckRoles(table, context);
            context.Unique(table.Columns.Select(c => (c.Name, c.Place, "name")), "column");
            foreach (ColumnDefinition column in table.Columns)
                ColumnRules.Check(column, context);
        }
        CheckRoster(context);
    }

    /// <summary>A file name must not lead out of the export folder.</summary>
    private static void CheckFile(TableDefinition table, RuleContext context)
    {
        if (table.File.Length == 0)
            return;
        const string ending = ".csv";
        string stem = table.File.EndsWith(ending, StringComparison.Ordinal) ? table.File[..^ending.Length] : string.Empty;
        if (stem.Length == 0 || !stem.All(c => char.IsAsciiLetterOrDigit(c) || c is '_' or '-'))
        {
            context.Fault(
                table.Place, "file", $"'{table.File}' is no plain file name ending in .csv.",
                "Use letters a to z, digits, '_' and '-', such as visits.csv.");
        }
    }

    private static void CheckKey(TableDefinition table, RuleContext context)
    {
        for (int i = 0; i < table.Key.Length; i++)
            context.Column(table.Place, $"key[{i}]", table, table.Key[i]);
        context.Unique(table.Key.Select((k, i) => (k, table.Place, $"key[{i}]")), "key column");
        if (table.Column(ColumnRole.Participant) is { } participant && table.Key.Length > 0 && !table.Key.Contains(participant.Name))
        {
            context.Fault(
                table.Place, "key", $"The key of table '{table.Name}' lacks the participant.",
                $"Add '{participant.Name}'.");
        }
    }

    private static void CheckRoles(TableDefinition table, RuleContext context)
    {
        if (table.Columns.Length > 0 && table.Column(ColumnRole.Participant) is null && !IsLog(table))
        {
            context.Fault(
                table.Place, "columns", $"Table '{table.Name}' names no participant.",
                "Give one column the role participant.");
        }
        foreach (var role in table.Columns.GroupBy(c => c.Role).Where(g => g.Count() > 1 && g.Key is not (ColumnRole.Value or ColumnRole.Sequence)))
        {
            ColumnDefinition second = role.Skip(1).First();
            context.Fault(
                second.Place, "role",
                $"Table '{table.Name}' has two columns of this role: '{role.First().Name}' and '{second.Name}'.",
                "A table has one column of a role.");
        }
    }

    /// <summary>A log of people who are not participants yet, such as a screening log: its rows have a running number and lead to nobody.</summary>
    private static bool IsLog(TableDefinition table)
        => table.Key is [var key] && table.Column(key)?.Role == ColumnRole.Sequence
            && table.Columns.All(c => c.Role is ColumnRole.Sequence or ColumnRole.Site or ColumnRole.Value);

    private static void CheckRoster(RuleContext context)
    {
        TableDefinition[] rosters = [.. context.Protocol.Tables.Where(t => t.IsRoster)];
        if (rosters.Length > 1)
        {
            context.Fault(
                rosters[1].Place, "is_roster",
                $"Tables '{rosters[0].Name}' and '{rosters[1].Name}' both list the participants.",
                "One table is the roster.");
        }
        foreach (TableDefinition roster in rosters)
        {
            if (roster.Key.Length > 0 && (roster.Key.Length > 1 || roster.Column(roster.Key[0]) is { Role: not ColumnRole.Participant }))
            {
                context.Fault(
                    roster.Place, "key", $"The roster '{roster.Name}' must have one row per participant.",
                    "Make the participant its only key column.");
            }
        }
    }
}
