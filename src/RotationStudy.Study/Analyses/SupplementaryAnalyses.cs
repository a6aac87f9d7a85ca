using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>The question once more with one thing changed: sensitivity analyses and the negative-control outcome.</summary>
internal static class SupplementaryAnalyses
{
    internal static IEnumerable<SupplementaryResult> Run(StudyProtocol protocol, DerivedMeasures measures, QuestionDefinition question)
    {
        foreach (SensitivityAnalysis analysis in question.Sensitivity)
        {
            QuestionDefinition changed = question with
            {
                Adjustment = [.. question.Adjustment.Where(a => !analysis.LeaveOut.Contains(a.Measure))],
                Interactions = [.. question.Interactions.Where(i => !analysis.LeaveOut.Contains(i.First) && !analysis.LeaveOut.Contains(i.Second))],
                Keep = analysis.Keep ?? question.Keep,
            };
            yield return Result(analysis.Name, "sensitivity", Difference(analysis, measures), analysis.Reason, AnalysisRunner.Answer(protocol, measures, changed));
        }
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

    private static SupplementaryResult Result(string name, string role, string differs, string reason, QuestionResult answer)
        => new(
            name, role, differs, reason, answer.Answer,
            [.. answer.Estimates.Where(e => e.Role is "exposure" or "interaction")], answer.Counts, answer.Warnings);

    private static string Difference(SensitivityAnalysis analysis, DerivedMeasures measures)
    {
        string[] parts =
        [
            .. analysis.LeaveOut.IsEmpty ? Array.Empty<string>() : [$"not adjusted for {Sentences.List(analysis.LeaveOut.Select(m => Sentences.LowerFirst(measures[m].Definition.Label)))}"],
            .. analysis.Keep is null ? Array.Empty<string>() : [$"only rows with {Sentences.LowerFirst(measures[analysis.Keep.Measure].Definition.Label)}: {Sentences.List(analysis.Keep.Codes)}"],
        ];
        return $"{char.ToUpperInvariant(parts[0][0])}{string.Join("; ", parts)[1..]}.";
    }
}
