using System.Collections.Immutable;

namespace RotationStudy.Study.Checks;

/// <summary>Counts what became of the rows of a file and proves the sum.</summary>
internal static class RowAccounting
{
    internal static RowAccount Of(TableDraft table)
    {
        SortedDictionary<string, int> counts = new(StringComparer.Ordinal);
        if (table.RaggedRows > 0)
            counts.Add(CheckCatalog.RowFields.Id, table.RaggedRows);
        if (table.WithdrawnRows > 0)
            counts.Add(CheckCatalog.ConsentWithdrawn.Id, table.WithdrawnRows);
        for (int row = 0; row < table.Rows; row++)
        {
            if (table.RuleOf(row) is { } rule)
                counts[rule.Id] = counts.GetValueOrDefault(rule.Id) + 1;
        }
        ImmutableArray<RuleCount> setAside = [.. counts.Select(c => new RuleCount(c.Key, c.Value))];
        RowAccount account = new(table.Definition.File, table.Definition.Name, table.Rows + table.RaggedRows + table.WithdrawnRows, table.Order.Length, setAside);
        if (!account.Balances)
        {
            throw new InvalidOperationException(
                $"Rows of {account.File} do not add up: {account.Read} read, {account.Used} used, "
                + $"{setAside.Sum(s => s.Rows)} set aside. This is a defect of the program.");
        }
        return account;
    }
}
