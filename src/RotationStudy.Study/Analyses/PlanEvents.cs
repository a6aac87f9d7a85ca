using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Analyses;

/// <summary>Whether there are events, in every group, and enough of them for the parameters planned.</summary>
internal static class PlanEvents
{
    internal static void Check(AnalysisInput input, PlanFaultList faults)
    {
        QuestionDefinition question = input.Question;
        (string path, string? id) = question.Event is null || question.Kind == QuestionKind.RecurrentEvents ? ("outcome", question.Outcome) : ("event", question.Event);
        int parameters = input.Terms.Terms.Length;
        if (question.Kind is not (QuestionKind.Odds or QuestionKind.Rate or QuestionKind.TimeToFirst or QuestionKind.AllEvents or QuestionKind.RecurrentEvents))
        {
            int people = input.Table.ParticipantCount;
            if (parameters + 1 >= people)
                faults.Stop("adjustment", $"{parameters + 1} parameters are planned for {people} {input.Protocol.Study.ParticipantWords.Many}.", "Plan a smaller adjustment set.");
            return;
        }
        ImmutableArray<double> events = input.Values(id);
        double total = events.Sum();
        if (total == 0)
        {
            // An outcome of yes and no that never varies has been reported as such.
            if (question.Kind != QuestionKind.Odds)
                faults.Stop(path, $"There are no events: '{id}' is 0 in all {input.Table.Rows} complete rows.", "Follow the cohort for longer, or describe the upper limit of the rate.");
            return;
        }
        CheckGroups(input, events, faults);
        double informative = question.Kind == QuestionKind.Odds ? Math.Min(total, events.Length - total) : total;
        if (parameters > informative && informative > 0)
        {
            string rarer = question.Kind == QuestionKind.Odds && informative < total ? "rows without the event" : "events";
            faults.Stop(
                question.Adjustment.IsEmpty ? "exposures" : "adjustment",
                FormattableString.Invariant($"{parameters} parameters are planned for {informative:0} {rarer}."),
                "Plan a smaller adjustment set; common practice asks for ten events or more per parameter.");
        }
    }

    /// <summary>A coded term with a code under which nobody has an event has no finite ratio.</summary>
    private static void CheckGroups(AnalysisInput input, ImmutableArray<double> events, PlanFaultList faults)
    {
        IEnumerable<(string Path, string Measure, bool Exposure)> terms =
        [
            .. input.Question.Exposures.Select((e, i) => ($"exposures[{i}].measure", e.Measure, true)),
            .. input.Question.Adjustment.Select((a, i) => ($"adjustment[{i}].measure", a.Measure, false)),
        ];
        foreach ((string path, string measure, bool exposure) in terms)
        {
            MeasureColumn column = input.Measures[measure];
            ImmutableArray<double> values = input.Values(measure);
            for (int code = 0; code < column.Codes.Length; code++)
            {
                int[] rows = [.. Enumerable.Range(0, values.Length).Where(r => values[r] == code)];
                if (rows.Length == 0 || rows.Any(r => events[r] > 0))
                    continue;
                string what = $"None of the {rows.Length} rows with '{column.Codes[code].Meaning}' in '{measure}' has an event.";
                const string hint = "Join it with another group beforehand, or leave the term out.";
                // Logistic regression has an answer to this, penalised likelihood; ratios of rates and hazards have none.
                if (exposure && input.Question.Kind != QuestionKind.Odds)
                    faults.Stop(path, what, hint);
                else
                    faults.Warn(path, what, hint);
            }
        }
    }
}
