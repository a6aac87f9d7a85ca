using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of the choices: each option changes something that the question has, and the changed question could have been planned.</summary>
internal static class ChoiceRules
{
    /// <summary>More combinations than this say nothing that fewer would not, and take the time of a coffee.</summary>
    internal const int MostCombinations = 20_000;

    internal static void Check(RuleContext context)
    {
        AnalysisPlan plan = context.Protocol.Plan;
        context.Unique(plan.Choices.Select(c => (c.Question + " " + c.Exposure, c.Place, "question")), "list of choices for");
        foreach (ChoicePlan choices in plan.Choices)
        {
            QuestionDefinition? question = Question(choices, context);
            context.Unique(choices.Dimensions.Select((d, i) => (d.Name, choices.Place, $"dimensions[{i}].name")), "decision");
            for (int d = 0; d < choices.Dimensions.Length; d++)
                CheckDimension(choices, d, question, context);
            double combinations = choices.Dimensions.Aggregate(1.0, (product, d) => product * Math.Max(1, d.Options.Length));
            if (combinations > MostCombinations)
            {
                context.Fault(
                    choices.Place, "dimensions", FormattableString.Invariant($"These options make {combinations:0} combinations, more than {MostCombinations}."),
                    "Keep the decisions that colleagues would really argue about.");
            }
        }
    }

    private static QuestionDefinition? Question(ChoicePlan choices, RuleContext context)
    {
        if (choices.Question.Length == 0)
            return null;
        if (context.Protocol.Plan.Questions.FirstOrDefault(q => q.Id == choices.Question) is not { } question)
        {
            context.Fault(
                choices.Place, "question", $"No question is called '{choices.Question}'.",
                NearestName.Hint(choices.Question, [.. context.Protocol.Plan.Questions.Select(q => q.Id)]));
            return null;
        }
        string[] exposures = [.. question.Exposures.Select(e => e.Measure)];
        if (choices.Exposure.Length > 0 && !exposures.Contains(choices.Exposure))
        {
            context.Fault(
                choices.Place, "exposure", $"'{choices.Exposure}' is no exposure of question {question.Id}.", NearestName.Hint(choices.Exposure, exposures));
        }
        else if (context.Measure(choices.Place, "exposure", choices.Exposure) is { IsNumeric: false })
        {
            context.Fault(choices.Place, "exposure", $"'{choices.Exposure}' has codes, so it has no single estimate to follow.", "Name an exposure of numbers.");
        }
        return question;
    }

    private static void CheckDimension(ChoicePlan choices, int d, QuestionDefinition? question, RuleContext context)
    {
        ChoiceDimension dimension = choices.Dimensions[d];
        string path = $"dimensions[{d}]";
        context.Unique(dimension.Options.Select((o, i) => (o.Label, choices.Place, $"{path}.options[{i}].label")), "option");
        if (dimension.Options.Length is 1)
            context.Fault(choices.Place, $"{path}.options", $"'{dimension.Name}' has one option, which is no choice.", "Add an option or remove the decision.");
        for (int o = 0; o < dimension.Options.Length; o++)
        {
            string optionPath = $"{path}.options[{o}]";
            ChoiceOption option = dimension.Options[o];
            if (o == 0 && !option.ChangesNothing)
            {
                context.Fault(
                    choices.Place, optionPath, $"The first option of '{dimension.Name}' is the planned one and must change nothing.",
                    "Write the planned option first, with label and reason only.");
            }
            if (o > 0 && option.ChangesNothing)
                context.Fault(choices.Place, optionPath, $"Option '{option.Label}' changes nothing.", "Say what it replaces, leaves out, adds, keeps, merges or fits.");
            if (question is not null)
                ChoiceOptionRules.Check(option, optionPath, choices.Place, question, context);
        }
    }
}
