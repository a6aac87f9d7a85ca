using RotationStudy.Study.Analyses.Tracking;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Analyses;

/// <summary>Curves that nobody has, groups too small for a band, and errors that no repeated reading tells.</summary>
internal static class PlanCurves
{
    internal static void Check(AnalysisInput input, PlanFaultList faults)
    {
        if (input.Question.Curves is { } curves)
            CheckCurves(input, curves, faults);
        for (int i = 0; i < input.Question.MeasurementError.Length; i++)
        {
            MeasurementErrorPlan plan = input.Question.MeasurementError[i];
            if (plan.From is { } from && PeopleReadTwice(input.Measures.Readings[from], plan.Scope) < 2)
            {
                faults.Warn(
                    $"measurement_error[{i}].from", $"The readings of {from} hold fewer than two {input.Protocol.Study.ParticipantWords.Many} who were read twice, so they do not tell the error of '{plan.Measure}'.",
                    "Let raters read some of them twice, or give 'error_sd'; the planned estimate is unchanged by this.");
            }
        }
    }

    private static void CheckCurves(AnalysisInput input, CurveColumn curves, PlanFaultList faults)
    {
        HashSet<(int, int)> recorded = [.. input.Measures.Curves[input.Question.Id].Trials.Select(t => (t.Participant, t.Side))];
        int[] rows = [.. Enumerable.Range(0, input.Table.Rows).Where(r => recorded.Contains((input.Table.Keys[r].Participant, input.Table.Keys[r].Side)))];
        if (rows.Length == 0)
        {
            faults.Stop("curves.column", $"No row of this question has a curve: '{curves.Table}.{curves.Column}' has no value for them.", "Look at the column in the export.");
            return;
        }
        if (input.Question.GroupBy is not { } by)
            return;
        int fewest = CurvesAnalysis.Fewest(input);
        MeasureColumn measure = input.Measures[by];
        for (int code = 0; code < 2; code++)
        {
            int people = rows.Where(r => (int)input.Values(by)[r] == code).Select(r => input.Table.Keys[r].Participant).Distinct().Count();
            if (people < fewest)
            {
                string name = measure.IsCoded ? measure.Codes[code].Meaning : code == 1 ? "yes" : "no";
                faults.Stop("group_by", $"Fewer than {fewest} {input.Protocol.Study.ParticipantWords.Many} with '{name}' in '{by}' have a curve.", "Wait for more, or leave 'group_by' out.");
            }
        }
    }

    private static int PeopleReadTwice(ReadingSet readings, ErrorScope scope)
        => readings.Rows
            .Where(r => scope == ErrorScope.WithinRater || r.Session == 0)
            .GroupBy(r => (r.Participant, r.Side, scope == ErrorScope.WithinRater ? r.Rater : -1))
            .Where(g => g.Count() > 1)
            .Select(g => g.Key.Participant).Distinct().Count();
}
