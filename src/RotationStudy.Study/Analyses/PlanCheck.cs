using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Compares the plan with the data before anything is fitted: what a question asks for and these rows cannot give.</summary>
/// <remarks>
/// The reader has compared the plan with itself. Here all questions are looked at together, so that a user hears of
/// everything at once, at its place in plan.yaml. A fault of this kind is no fault of the protocol: it depends on the data
/// cut. So the report is written, the question says why it has no estimate, and the program ends with code 5.
/// </remarks>
public static class PlanCheck
{
    /// <summary>All faults, in the order of the plan.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="measures">All measures.</param>
    public static ImmutableArray<PlanFaultLine> Check(StudyProtocol protocol, DerivedMeasures measures)
        => [.. protocol.Plan.Questions.SelectMany(q => Of(AnalysisInput.Prepare(protocol, measures, q)))];

    /// <summary>The answer to a question that faults stop, all of them in one sentence; null when it can be carried out.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="measures">All measures.</param>
    /// <param name="question">The question.</param>
    /// <param name="faults">Faults of the whole plan.</param>
    public static QuestionResult? Refusal(
        StudyProtocol protocol, DerivedMeasures measures, QuestionDefinition question, ImmutableArray<PlanFaultLine> faults)
    {
        PlanFaultLine[] stops = [.. faults.Where(f => f.Stops && f.Question == question.Id)];
        if (stops.Length == 0)
            return null;
        AnalysisInput input = AnalysisInput.Prepare(protocol, measures, question);
        string why = string.Join("; ", stops.Select(f => Sentences.LowerFirst(f.What.TrimEnd('.'))));
        QuestionResult refused = input.NotAnswered(why, stops[0].Hint);
        // Curves stand on their own even where no regression can.
        return question.Kind == QuestionKind.TimeToFirst && input.Table.ParticipantCount > 1 ? refused with { Curves = EventFreeCurves.ByGroup(input) } : refused;
    }

    private static List<PlanFaultLine> Of(AnalysisInput input)
    {
        PlanFaultList faults = new(input);
        if (input.Table.Population == 0)
        {
            faults.Stop(input.Question.Keep is null ? "rows" : "keep", "The population of this question is empty: no row is kept.", "Keep other codes, or look at the column they stand in.");
            return faults.Lines;
        }
        PlanColumns.CheckPresent(input, faults);
        if (input.Table.Rows == 0)
        {
            if (faults.Lines.Count == 0)
                faults.Stop("", $"No row has all the values that this question needs; most often: {input.Table.LeftOut[0].Reason}.", "Ask for fewer measures at once.");
            return faults.Lines;
        }
        if (input.Question.Kind == QuestionKind.Baseline)
            return faults.Lines;
        PlanColumns.CheckVariation(input, faults);
        PlanEntry.Check(input, faults);
        PlanEvents.Check(input, faults);
        PlanCurves.Check(input, faults);
        return faults.Lines;
    }
}

/// <summary>Gathers the faults of one question at their places.</summary>
internal sealed class PlanFaultList(AnalysisInput input)
{
    internal List<PlanFaultLine> Lines { get; } = [];

    internal AnalysisInput Input => input;

    internal void Stop(string path, string what, string hint) => Add(path, what, hint, true);

    internal void Warn(string path, string what, string hint) => Add(path, what, hint, false);

    private void Add(string path, string what, string hint, bool stops)
        => Lines.Add(new PlanFaultLine(input.Question.Id, input.Protocol.PlaceOf(input.Question.Place, path).ToString(), what, hint, stops));
}
