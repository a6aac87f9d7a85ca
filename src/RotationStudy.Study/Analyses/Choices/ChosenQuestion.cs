using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Analyses.Choices;

/// <summary>A question as a combination of options would have had it.</summary>
/// <param name="Question">The question.</param>
/// <param name="Exposure">Measure of the exposure that is followed, after stand-ins.</param>
/// <param name="Counts">Distribution of counts, for a rate.</param>
internal sealed record ChosenQuestion(QuestionDefinition Question, string Exposure, CountDistribution Counts)
{
    /// <summary>Applies options in the order of the decisions: rows, model, adjustment, and last the stand-ins for measures.</summary>
    internal static ChosenQuestion Of(QuestionDefinition planned, string exposure, IReadOnlyList<ChoiceOption> options)
    {
        QuestionDefinition question = planned;
        CountDistribution counts = CountDistribution.NegativeBinomial;
        foreach (ChoiceOption option in options)
        {
            question = question with
            {
                Keep = option.Keep ?? question.Keep,
                Adjustment = [.. question.Adjustment.Where(a => !option.LeaveOut.Contains(a.Measure)), .. option.Add],
            };
            if (option.Model is not { } model)
                continue;
            counts = model.Counts;
            question = question with
            {
                Kind = model.Kind,
                Outcome = model.Outcome,
                FollowUp = model.FollowUp,
                Entry = model.Entry,
                Exit = model.Exit,
                Event = model.Event,
            };
        }
        foreach (MeasureSwap swap in options.SelectMany(o => o.Replace))
        {
            question = Replace(question, swap);
            exposure = exposure == swap.Measure ? swap.By : exposure;
        }
        return new ChosenQuestion(question, exposure, counts);
    }

    private static QuestionDefinition Replace(QuestionDefinition question, MeasureSwap swap)
    {
        return question with
        {
            Outcome = Name(question.Outcome),
            FollowUp = Name(question.FollowUp),
            Entry = Name(question.Entry),
            Exit = Name(question.Exit),
            Event = Name(question.Event),
            Exposures = [.. question.Exposures.Select(e => e.Measure == swap.Measure ? e with { Measure = swap.By } : e)],
            Adjustment = [.. question.Adjustment.Select(a => a.Measure == swap.Measure ? a with { Measure = swap.By } : a)],
            Interactions = [.. question.Interactions.Select(i => new InteractionTerm(Name(i.First)!, Name(i.Second)!))],
        };

        string? Name(string? measure) => measure == swap.Measure ? swap.By : measure;
    }
}
