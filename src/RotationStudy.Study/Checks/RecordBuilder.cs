using System.Collections.Immutable;
using System.Runtime.InteropServices;
using RotationStudy.Study.Checks.Cells;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Checks;

/// <summary>Copies the kept rows of a checked table, in order of their key, into typed columns.</summary>
internal static class RecordBuilder
{
    /// <summary>The records of a table; without rows when its file is not there or could not be read.</summary>
    internal static RecordTable Build(TableDefinition definition, TableDraft? draft)
    {
        int[] order = draft?.Order ?? [];
        return new RecordTable(
            definition,
            order.Length,
            [.. definition.Columns.Select((c, i) => new Lazy<RecordColumn>(() => BuildColumn(c, draft?.Columns[i], order)))],
            [.. order.Select(row => draft!.Line(row))]);
    }

    private static RecordColumn BuildColumn(ColumnDefinition definition, DraftColumn? draft, int[] order)
    {
        string[] reasons = draft is null ? [] : Reasons(draft, order);
        ImmutableArray<byte> missing = draft is null ? [] : Missing(draft, order, reasons);
        ImmutableArray<string> shared = ImmutableCollectionsMarshal.AsImmutableArray(reasons);
        return definition.Type switch
        {
            ColumnType.Code => new CodeColumn(definition, missing, shared, Copy(draft, order, v => v.Code)),
            ColumnType.Identifier => new IdentifierColumn(definition, missing, shared, Copy(draft, order, v => v.Identifier)),
            _ => new NumberColumn(definition, missing, shared, Copy(draft, order, v => v.Number)),
        };
    }

    /// <summary>The reasons that occur among the kept rows, in ordinal order, so that they do not depend on the order of rows.</summary>
    private static string[] Reasons(DraftColumn draft, int[] order)
    {
        bool[] occurs = new bool[draft.Texts];
        foreach (int row in order)
            occurs[draft.TextOf(row)] = true;
        return
        [
            .. Enumerable.Range(0, draft.Texts)
                .Where(t => occurs[t] && !draft.VerdictOfText(t).HasValue)
                .Select(t => draft.VerdictOfText(t).Missing!)
                .Distinct(StringComparer.Ordinal)
                .Order(StringComparer.Ordinal),
        ];
    }

    private static ImmutableArray<byte> Missing(DraftColumn draft, int[] order, string[] reasons)
    {
        byte[] ofText = new byte[draft.Texts];
        for (int text = 0; text < ofText.Length; text++)
            ofText[text] = draft.VerdictOfText(text) is { Missing: { } reason } ? (byte)(1 + Math.Max(Array.IndexOf(reasons, reason), 0)) : (byte)0;
        byte[] missing = new byte[order.Length];
        for (int i = 0; i < missing.Length; i++)
            missing[i] = ofText[draft.TextOf(order[i])];
        return ImmutableCollectionsMarshal.AsImmutableArray(missing);
    }

    private static ImmutableArray<T> Copy<T>(DraftColumn? draft, int[] order, Func<Verdict, T> value)
    {
        if (draft is null)
            return [];
        T[] ofText = new T[draft.Texts];
        for (int text = 0; text < ofText.Length; text++)
            ofText[text] = value(draft.VerdictOfText(text));
        T[] values = new T[order.Length];
        for (int i = 0; i < values.Length; i++)
            values[i] = ofText[draft.TextOf(order[i])];
        return ImmutableCollectionsMarshal.AsImmutableArray(values);
    }
}
