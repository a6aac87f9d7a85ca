using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Analyses.Choices;

/// <summary>The measures under each combination of merging window and hip gate, each derived once.</summary>
internal sealed class ChosenMeasures(StudyProtocol protocol, CheckedRecords records, DerivedMeasures planned)
{
    private readonly Dictionary<(int? Window, HipGateLevel? Gate), (StudyProtocol, DerivedMeasures)> known = new()
    {
        [(null, null)] = (protocol, planned),
    };

    /// <summary>The protocol with these choices and what it derives.</summary>
    internal (StudyProtocol Protocol, DerivedMeasures Measures) Under(IReadOnlyList<ChoiceOption> options)
    {
        int? window = options.Select(o => o.MergeWithinDays).LastOrDefault(w => w is not null);
        HipGateLevel? gate = options.Select(o => o.HipGate).LastOrDefault(g => g is not null);
        if (known.TryGetValue((window, gate), out (StudyProtocol, DerivedMeasures) found))
            return found;
        StudyProtocol changed = protocol with
        {
            Measures = window is { } days ? [.. protocol.Measures.Select(m => WithWindow(m, days))] : protocol.Measures,
            Plan = gate is { } level ? protocol.Plan with { HipGate = protocol.Plan.HipGate! with { Level = level } } : protocol.Plan,
        };
        found = (changed, MeasureDeriver.Derive(changed, records));
        known.Add((window, gate), found);
        return found;
    }

    /// <summary>A measure of events with another merging window. The end of follow-up is a first event, which merging leaves where it is.</summary>
    private static MeasureDefinition WithWindow(MeasureDefinition measure, int days) => measure switch
    {
        EventCountMeasure m => m with { Events = m.Events with { MergeWithinDays = days } },
        AnyEventMeasure m => m with { Events = m.Events with { MergeWithinDays = days } },
        FirstEventDayMeasure m => m with { Events = m.Events with { MergeWithinDays = days } },
        FirstOfMeasure m => m with { Outcomes = [.. m.Outcomes.Select(o => o with { Events = o.Events with { MergeWithinDays = days } })] },
        _ => measure,
    };
}
