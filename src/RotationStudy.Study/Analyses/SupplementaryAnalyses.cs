using RotationStudy.Statistics;
using RotationStudy.Study.Analyses.Choices;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>The question once more with something changed: sensitivity analyses and the negative-control outcome.</summary>
internal static class SupplementaryAnalyses
{
    internal static IEnumerable<SupplementaryResult> Run(StudyProtocol protocol, DerivedMeasures measures, QuestionDefinition question)
    {
        foreach (SensitivityAnalysis analysis in question.Sensitivity)
            yield return Result(analysis.Name, "sensitivity", Difference(analysis, question, measures), analysis.Reason, Answer(protocol, measures, question, analysis));
        if (question.NegativeControl is { } control)
        {
            string outcome = measures[control.Outcome].Definition.Label;
            QuestionDefinition changed = question with { Outcome = control.Outcome };
            yield return Result(
                $"Negative control: {Sentences.LowerFirst(outcome)}", "negative_control",
                $"The outcome is {Sentences.LowerFirst(outcome)}. An association with it would speak for confounding or bias, not for an effect.",
                control.Reason, AnalysisRunner.Answer(protocol, measures, changed));
        }
    }

    private static QuestionResult Answer(StudyProtocol protocol, DerivedMeasures measures, QuestionDefinition question, SensitivityAnalysis analysis)
    {
        ChoiceOption option = new(
            analysis.Name, analysis.Reason, analysis.Replace, analysis.LeaveOut, analysis.Add, analysis.Keep, null, null, analysis.Model);
        ChosenQuestion chosen = ChosenQuestion.Of(question, string.Empty, [option]);
        QuestionDefinition changed = chosen.Question with
        {
            Interactions = [.. chosen.Question.Interactions.Where(i => !analysis.LeaveOut.Contains(i.First) && !analysis.LeaveOut.Contains(i.Second))],
        };
        if (analysis.SplitAt is { } split)
            return Split(AnalysisInput.Prepare(protocol, measures, changed), split);
        QuestionResult answer = AnalysisRunner.Answer(protocol, measures, changed);
        // A rate answers with the negative binomial model and has Poisson beside it.
        return chosen.Counts == CountDistribution.Poisson && answer.Answered
            ? answer with { Estimates = answer.Beside, Answer = Sentences.Answer(answer.Beside, AnalysisInput.Prepare(protocol, measures, changed)) }
            : answer;
    }

    private static QuestionResult Split(AnalysisInput input, double split)
    {
        if (input.Blocked is { } blocked)
            return input.NotAnswered(blocked, "The analysis needs other data.");
        try
        {
            return SplitHazards.Answer(input, split);
        }
        catch (StatisticsError error)
        {
            return input.NotAnswered(error.What, error.Hint);
        }
    }

    private static SupplementaryResult Result(string name, string role, string differs, string reason, QuestionResult answer)
        => new(
            name, role, differs, reason, answer.Answer,
            [.. answer.Estimates.Where(e => e.Role is "exposure" or "interaction")], answer.Counts, answer.Warnings);

    private static string Difference(SensitivityAnalysis analysis, QuestionDefinition question, DerivedMeasures measures)
    {
        List<string> parts = [];
        if (!analysis.LeaveOut.IsEmpty)
            parts.Add($"not adjusted for {Sentences.List(analysis.LeaveOut.Select(Label))}");
        if (!analysis.Add.IsEmpty)
            parts.Add($"adjusted for {Sentences.List(analysis.Add.Select(a => Label(a.Measure)))} as well");
        parts.AddRange(analysis.Replace.Select(swap => $"{Label(swap.By)} in place of {Label(swap.Measure)}"));
        if (analysis.Keep is { } keep)
            parts.Add($"only rows with {Label(keep.Measure)}: {Sentences.List(keep.Codes)}");
        if (analysis.Model is { } model)
            parts.Add($"carried out as {(model.Counts == CountDistribution.Poisson ? "a Poisson rate" : AnalysisInput.KindName(model.Kind).Replace('_', ' '))}");
        if (analysis.SplitAt is { } split)
            parts.Add(FormattableString.Invariant($"one hazard ratio up to {split:0.###} {question.TimeUnit} and another after it"));
        return $"{char.ToUpperInvariant(parts[0][0])}{string.Join("; ", parts)[1..]}.";

        string Label(string measure) => Sentences.LowerFirst(measures[measure].Definition.Label);
    }
}
