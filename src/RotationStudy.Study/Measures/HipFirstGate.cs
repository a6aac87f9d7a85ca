using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Hip first: a visit at which a hip is painful, restricted or not examined closes the rotational profile of that visit.</summary>
/// <remarks>
/// Knee pain with lost or painful internal rotation in an adolescent may come from the hip, so the hip is cleared by a
/// clinician before a knee explanation is accepted. The gate closes both sides of the visit: prone rotation of one side
/// is not to be trusted while the other hip hurts. A visit is clear when every rater cleared every side, or when the list
/// of cleared examinations holds it. The plan may close less or more (<see cref="HipGateLevel"/>); what is listed for the
/// clinical team stays the same.
/// </remarks>
internal sealed class HipFirstGate
{
    private const string Closed = "hip first: rotational profile set aside until the hip is cleared";
    private const int All = -2;

    private readonly HashSet<(int Participant, int Occasion, int Side)> closed;
    private readonly HipGateLevel level;

    private HipFirstGate(HashSet<(int, int, int)> closed, HipGateLevel level, ImmutableArray<HipFirstVisit> listed)
    {
        this.closed = closed;
        this.level = level;
        Listed = listed;
    }

    /// <summary>Sides for the clinical team, in key order.</summary>
    internal ImmutableArray<HipFirstVisit> Listed { get; }

    /// <summary>Why the rotational profile of a visit is set aside, or null when it may be used.</summary>
    internal string? Closes(RowKey key)
        => level != HipGateLevel.Off && closed.Contains(Reach(key, level)) ? Closed : null;

    internal static HipFirstGate Read(StudyProtocol protocol, CheckedRecords records, StudyIndex index)
    {
        HashSet<(int, int, int)> closed = [];
        if (protocol.Plan.HipGate is not { } gate)
            return new HipFirstGate(closed, HipGateLevel.Off, []);
        RecordTable table = records[gate.Table];
        CodeColumn finding = (CodeColumn)table[gate.Column];
        ImmutableArray<RowKey> keys = index.KeysOfRows(table);
        HashSet<(int, int, int)> cleared = Cleared(gate, records, index);
        SortedDictionary<RowKey, string> listed = new(Comparer<RowKey>.Create(Compare));
        for (int row = 0; row < table.Rows; row++)
        {
            CodeDefinition? code = finding.HasValue(row) ? finding.Definition.Codes[finding.Indices[row]] : null;
            if (code is not null && gate.ClearCodes.Contains(code.Code))
                continue;
            if (cleared.Contains(Reach(keys[row], HipGateLevel.Side)) || cleared.Contains(Reach(keys[row], HipGateLevel.Visit)))
                continue;
            // Two raters may disagree: the list keeps the words of the first row in key order.
            listed.TryAdd(keys[row], code?.Meaning ?? "not examined");
            closed.Add(Reach(keys[row], gate.Level));
        }
        return new HipFirstGate(closed, gate.Level, [.. listed.Select(l => new HipFirstVisit(l.Key, l.Value))]);
    }

    /// <summary>Examinations that a clinician cleared; without a side, all of the visit.</summary>
    private static HashSet<(int, int, int)> Cleared(HipGate gate, CheckedRecords records, StudyIndex index)
    {
        if (gate.Cleared is null)
            return [];
        RecordTable table = records[gate.Cleared];
        bool bySide = table.Definition.Column(ColumnRole.Side) is not null;
        return [.. index.KeysOfRows(table).Select(k => Reach(k, bySide ? HipGateLevel.Side : HipGateLevel.Visit))];
    }

    private static (int Participant, int Occasion, int Side) Reach(RowKey key, HipGateLevel level) => level switch
    {
        HipGateLevel.Side => (key.Participant, key.Occasion, key.Side),
        HipGateLevel.Participant => (key.Participant, All, All),
        _ => (key.Participant, key.Occasion, All),
    };

    private static int Compare(RowKey a, RowKey b)
        => (a.Participant, a.Occasion, a.Side).CompareTo((b.Participant, b.Occasion, b.Side));
}
