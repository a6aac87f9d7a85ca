using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Rows;

/// <summary>Numbers the keys of a table so that sorting rows by key is sorting numbers.</summary>
/// <remarks>
/// Identifiers are ordered letter by letter (ordinal), codes as the protocol lists them, numbers by value. Equal keys get
/// equal numbers however they were written.
/// </remarks>
internal static class KeyOrder
{
    private const ulong Most = 1UL << 62;

    /// <summary>One number per row; rows with an unusable key get a number too, which means nothing.</summary>
    internal static ulong[] Of(TableDraft table) => Of(table, table.Key);

    /// <summary>One number per row for some columns instead of the key.</summary>
    internal static ulong[] Of(TableDraft table, IReadOnlyList<DraftColumn> columns)
    {
        ulong[] keys = new ulong[table.Rows];
        ulong distinct = 1;
        foreach (DraftColumn column in columns)
        {
            (int[] rankOfText, ulong ranks) = Ranks(column);
            if (distinct > Most / ranks)
                distinct = Condense(keys);
            for (int row = 0; row < keys.Length; row++)
                keys[row] = (keys[row] * ranks) + (ulong)rankOfText[column.TextOf(row)];
            distinct *= ranks;
        }
        return keys;
    }

    private static (int[] RankOfText, ulong Ranks) Ranks(DraftColumn column)
    {
        int[] texts = [.. Enumerable.Range(0, column.Texts)];
        Array.Sort(texts, (a, b) => Compare(column, a, b));
        int[] ranks = new int[texts.Length];
        int rank = 0;
        for (int i = 0; i < texts.Length; i++)
        {
            if (i > 0 && Compare(column, texts[i - 1], texts[i]) != 0)
                rank++;
            ranks[texts[i]] = rank;
        }
        return (ranks, (ulong)rank + 1);
    }

    private static int Compare(DraftColumn column, int a, int b) => column.Definition.Type switch
    {
        ColumnType.Identifier => string.CompareOrdinal(column.VerdictOfText(a).Identifier, column.VerdictOfText(b).Identifier),
        ColumnType.Code => column.VerdictOfText(a).Code.CompareTo(column.VerdictOfText(b).Code),
        _ => column.VerdictOfText(a).Number.CompareTo(column.VerdictOfText(b).Number),
    };

    /// <summary>Renumbers the keys without gaps, so that another part fits behind them.</summary>
    private static ulong Condense(ulong[] keys)
    {
        ulong[] sorted = [.. keys.Distinct().Order()];
        Dictionary<ulong, ulong> place = new(sorted.Length);
        for (int i = 0; i < sorted.Length; i++)
            place.Add(sorted[i], (ulong)i);
        for (int row = 0; row < keys.Length; row++)
            keys[row] = place[keys[row]];
        return (ulong)Math.Max(sorted.Length, 1);
    }
}
