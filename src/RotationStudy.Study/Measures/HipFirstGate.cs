using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Hip first: a visit at which a hip is painful, restricted or not examined closes the rotational profile of that visit.</summary>
/// <remarks>
/// Knee pain with lost or painful internal rotation in an adolescent may come from the hip, so the hip is cleared by a
/// clinician before a knee explanation is accepted. The gate closes both sides of the visit: prone rotation of one side
/// is not to be trusted while the other hip hurts. A visit is clear when every rater cleared every side.
/// </remarks>
internal sealed class HipFirstGate
{
    private readonly Dictionary<(int Participant, int Occasion), string> closed;

    private HipFirstGate(Dictionary<(int, int), string> closed, ImmutableArray<HipFirstVisit> listed)
    {
        this.closed = closed;
        Listed = listed;
    }

    /// <summary>Sides for the clinical team, in key order.</summary>
    internal ImmutableArray<HipFirstVisit> Listed { get; }

    /// <summary>Why the rotational profile of a visit is set aside, or null when it may be used.</summary>
    internal string? Closes(RowKey key) => closed.GetValueOrDefault((key.Participant, key.Occasion));

    internal static HipFirstGate Read(StudyProtocol protocol, CheckedRecords records, StudyIndex index)
    {
        Dictionary<(int, int), string> closed = [];
        if (protocol.Plan.HipGate is not { } gate)
            return new HipFirstGate(closed, []);
        RecordTable table = records[gate.Table];
        CodeColumn finding = (CodeColumn)table[gate.Column];
        ImmutableArray<RowKey> keys = index.KeysOfRows(table);
        SortedDictionary<RowKey, string> listed = new(Comparer<RowKey>.Create(Compare));
        for (int row = 0; row < table.Rows; row++)
        {
            CodeDefinition? code = finding.HasValue(row) ? finding.Definition.Codes[finding.Indices[row]] : null;
            if (code is not null && gate.ClearCodes.Contains(code.Code))
                continue;
            string what = code?.Meaning ?? "not examined";
            // Two raters may disagree: the list keeps the words of the first row in key order.
            listed.TryAdd(keys[row], what);
            closed.TryAdd((keys[row].Participant, keys[row].Occasion), "hip first: rotational profile set aside until the hip is cleared");
        }
        return new HipFirstGate(closed, [.. listed.Select(l => new HipFirstVisit(l.Key, l.Value))]);
    }

    private static int Compare(RowKey a, RowKey b)
        => (a.Participant, a.Occasion, a.Side).CompareTo((b.Participant, b.Occasion, b.Side));
}
