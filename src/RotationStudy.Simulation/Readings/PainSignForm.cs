using System.Collections.Immutable;
using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>One form on pain out of proportion.</summary>
/// <param name="Visit">Code of the visit.</param>
/// <param name="Side">L or R.</param>
/// <param name="OutOfProportion">Whether the pain is.</param>
/// <param name="Symptoms">Four groups as reported: feeling, skin temperature and colour, sweat and swelling, movement and skin growth.</param>
/// <param name="Signs">The same four as seen.</param>
/// <param name="OtherExplanation">Whether something else explains the pain better.</param>
public sealed record PainSignForm(
    string Visit, char Side, bool OutOfProportion, ImmutableArray<bool> Symptoms, ImmutableArray<bool> Signs, bool OtherExplanation);

/// <summary>Fills in the form at visits in much pain, and at those after an event that was followed by pain out of proportion.</summary>
internal static class PainSignForms
{
    private const int Groups = 4;

    internal static IEnumerable<PainSignForm> FillIn(
        PainSignScenario scenario, IReadOnlyList<SimulatedKnee> knees, IReadOnlyList<AttendedVisit> visits, NamedStreams streams)
    {
        int?[] onset = [.. knees.Select(k => Onset(scenario, k, streams.Open($"pain out of proportion {k.Side}")))];
        RandomDraws draws = streams.Open("pain signs");
        foreach (AttendedVisit visit in visits)
        {
            bool painful = visit.Pain is { State: ReadingState.Recorded } pain && pain.Value >= scenario.AskedFromPain;
            for (int k = 0; k < knees.Count; k++)
            {
                bool present = onset[k] is { } day && visit.Day >= day && visit.Day <= day + scenario.ShownForDays;
                if (!present && !(painful && WorseSide(knees) == k))
                    continue;
                double share = present ? scenario.PresentShare : scenario.AbsentShare;
                yield return new PainSignForm(
                    visit.Visit, knees[k].Side, draws.Happens(share), Draw(), Draw(),
                    draws.Happens(present ? 0 : scenario.OtherExplanationShare));

                ImmutableArray<bool> Draw() => [.. Enumerable.Range(0, Groups).Select(_ => draws.Happens(share))];
            }
        }
    }

    /// <summary>The day on which it begins, or null.</summary>
    internal static int? Onset(PainSignScenario scenario, SimulatedKnee knee, RandomDraws draws)
    {
        bool afterOperation = draws.Happens(scenario.AfterOperationShare);
        bool afterDislocation = draws.Happens(scenario.AfterDislocationShare);
        if (knee.Events.FirstOrDefault(e => e.Kind == "operation") is { } operation)
            return afterOperation ? operation.Day : null;
        return afterDislocation ? knee.Events.FirstOrDefault(e => e.Kind == "dislocation")?.Day : null;
    }

    private static int WorseSide(IReadOnlyList<SimulatedKnee> knees) => knees[1].PriorInstability && !knees[0].PriorInstability ? 1 : 0;
}
