using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Analyses;

/// <summary>Rows that come under observation late. Time before it is time in which an event could not have been seen, so it must not count as time without one.</summary>
internal static class PlanEntry
{
    internal static void Check(AnalysisInput input, PlanFaultList faults)
    {
        QuestionDefinition question = input.Question;
        (string path, string? time) = question.Kind switch
        {
            QuestionKind.TimeToFirst or QuestionKind.CompetingEvents when question.Entry is null => ("exit", question.Exit),
            QuestionKind.RecurrentEvents => ("follow_up", question.FollowUp),
            _ => (string.Empty, null),
        };
        if (time is null || EntryOf(input.Measures, time) is not { } entry)
            return;
        MeasureColumn day = input.Measures[entry];
        int late = input.Table.Keys.Select(day.Index.Find).Count(row => row >= 0 && day.HasValue(row) && day.Values[row] > 0);
        if (late == 0)
            return;
        faults.Stop(
            path, $"{late} of {input.Table.Rows} complete rows come under observation after enrolment ('{entry}'), and '{time}' would count the time before as time without an event.",
            question.Kind == QuestionKind.TimeToFirst
                ? $"Write 'entry: {entry}'."
                : "This model needs every row from enrolment on: keep those that have it, by a measure of groups.");
    }

    /// <summary>The measure of the day of entry behind a time since enrolment; null where all enter at enrolment.</summary>
    private static string? EntryOf(DerivedMeasures measures, string time) => measures[time].Definition switch
    {
        FollowUpMeasure m => m.Entry,
        FirstEventDayMeasure m => EntryOf(measures, m.FollowUp),
        FirstOfDayMeasure m => EntryOf(measures, ((FirstOfMeasure)measures[m.Of].Definition).FollowUp),
        _ => null,
    };
}
