using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.SecondRun;

/// <summary>Checked records in which each participant's rows come from the earlier data or from the new ones.</summary>
/// <remarks>
/// All rows of a participant come from one side, so that no row is analysed beside another state of the same person. Rows are
/// ordered by key as a check would have ordered them; with everybody from one side the records are those of that side.
/// </remarks>
internal static class RecordMix
{
    /// <summary>Mixes two sets of records.</summary>
    /// <param name="before">The earlier records.</param>
    /// <param name="after">The new records, read by the same protocol.</param>
    /// <param name="isNew">Whether a participant's rows are the new ones; asked with an empty name for rows that name nobody.</param>
    internal static CheckedRecords Of(CheckedRecords before, CheckedRecords after, Func<string, bool> isNew) => after with
    {
        Tables = [.. before.Tables.Zip(after.Tables, (old, young) => Table(old, young, isNew))],
        Findings = [.. before.Findings.Where(f => !isNew(f.Participant ?? string.Empty)), .. after.Findings.Where(f => isNew(f.Participant ?? string.Empty))],
    };

    private static RecordTable Table(RecordTable before, RecordTable after, Func<string, bool> isNew)
    {
        string[] ownersBefore = RecordKeys.Participants(before), ownersAfter = RecordKeys.Participants(after);
        (RecordTable Table, int Row)[] rows =
        [
            .. Enumerable.Range(0, before.Rows).Where(r => !isNew(ownersBefore[r])).Select(r => (before, r)),
            .. Enumerable.Range(0, after.Rows).Where(r => isNew(ownersAfter[r])).Select(r => (after, r)),
        ];
        int[] key = [.. after.Definition.Key.Select(k => Position(after.Definition, k))];
        (RecordTable Table, int Row)[] ordered = [.. rows.Order(Comparer<(RecordTable Table, int Row)>.Create((a, b) => Compare(a, b, key)))];
        return new RecordTable(
            after.Definition,
            ordered.Length,
            [.. after.Columns.Select((c, i) => Column(c, i, ordered))],
            [.. ordered.Select(r => r.Table.SourceLines[r.Row])]);
    }

    private static int Position(TableDefinition table, string column)
    {
        int at = 0;
        while (table.Columns[at].Name != column)
            at++;
        return at;
    }

    private static int Compare((RecordTable Table, int Row) a, (RecordTable Table, int Row) b, int[] key)
    {
        foreach (int column in key)
        {
            int order = (a.Table.Columns[column], b.Table.Columns[column]) switch
            {
                (IdentifierColumn x, IdentifierColumn y) => string.CompareOrdinal(x.Values[a.Row], y.Values[b.Row]),
                (CodeColumn x, CodeColumn y) => x.Indices[a.Row].CompareTo(y.Indices[b.Row]),
                (NumberColumn x, NumberColumn y) => x.Values[a.Row].CompareTo(y.Values[b.Row]),
                _ => 0,
            };
            if (order != 0)
                return order;
        }
        return 0;
    }

    private static RecordColumn Column(RecordColumn like, int position, (RecordTable Table, int Row)[] rows)
    {
        string?[] reasonOf = [.. rows.Select(r => r.Table.Columns[position].MissingReason(r.Row))];
        ImmutableArray<string> reasons = [.. reasonOf.OfType<string>().Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        ImmutableArray<byte> missing = [.. reasonOf.Select(r => r is null ? (byte)0 : (byte)(1 + reasons.IndexOf(r)))];
        return like switch
        {
            NumberColumn => new NumberColumn(like.Definition, missing, reasons, [.. rows.Select(r => ((NumberColumn)r.Table.Columns[position]).Values[r.Row])]),
            CodeColumn => new CodeColumn(like.Definition, missing, reasons, [.. rows.Select(r => ((CodeColumn)r.Table.Columns[position]).Indices[r.Row])]),
            IdentifierColumn => new IdentifierColumn(like.Definition, missing, reasons, [.. rows.Select(r => ((IdentifierColumn)r.Table.Columns[position]).Values[r.Row])]),
            _ => throw new NotSupportedException($"A column of type {like.GetType().Name} cannot be mixed."),
        };
    }
}
