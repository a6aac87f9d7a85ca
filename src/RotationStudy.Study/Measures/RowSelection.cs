using System.Collections.Immutable;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Which rows of a table a measure looks at: those of one visit, or of one method, or all.</summary>
internal sealed class RowSelection
{
    private readonly ImmutableArray<RowKey> keys;
    private readonly int occasion;
    private readonly bool oneVisit;
    private readonly CodeColumn? method;
    private readonly int methodCode;

    private RowSelection(ImmutableArray<RowKey> keys, bool oneVisit, int occasion, CodeColumn? method, int methodCode, string nothingFound)
    {
        this.keys = keys;
        this.oneVisit = oneVisit;
        this.occasion = occasion;
        this.method = method;
        this.methodCode = methodCode;
        NothingFound = nothingFound;
    }

    /// <summary>The reason of a key for which no row was kept.</summary>
    internal string NothingFound { get; }

    internal static RowSelection Of(RecordTable table, string? visit, string? methodColumn, string? methodName, Derivation derivation)
    {
        CodeColumn? method = methodColumn is null ? null : (CodeColumn)table[methodColumn];
        int code = -1;
        string what = table.Definition.Label;
        if (method is not null)
        {
            code = method.Definition.Codes.ToList().FindIndex(c => c.Code == methodName);
            what += $" by method {method.Definition.Codes[code].Meaning}";
        }
        if (visit is not null)
            what += $" at {derivation.Protocol.Study.Visits.FirstOrDefault(v => v.Id == visit)?.Label ?? visit}";
        return new RowSelection(
            derivation.Index.KeysOfRows(table),
            visit is not null,
            visit is null ? -1 : derivation.Index.Occasion(visit),
            method,
            code,
            $"no row in {what}");
    }

    /// <summary>The key of a row with its visit, for the hip-first gate.</summary>
    internal RowKey KeyWithVisit(int row) => keys[row];

    internal bool Keeps(int row, out RowKey key)
    {
        key = keys[row];
        return key.Participant >= 0
            && (!oneVisit || key.Occasion == occasion)
            && (method is null || (method.HasValue(row) && method.Indices[row] == methodCode));
    }
}
