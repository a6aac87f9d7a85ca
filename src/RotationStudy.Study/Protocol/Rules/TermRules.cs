using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of the terms of a model: exposures, adjustment, interactions, random slope.</summary>
internal static class TermRules
{
    internal static void Check(QuestionDefinition question, RuleContext context)
    {
        Term[] terms =
        [
            .. question.Exposures.Select((e, i) => new Term($"exposures[{i}]", e.Measure, e.Per, e.Reference)),
            .. question.Adjustment.Select((a, i) => new Term($"adjustment[{i}]", a.Measure, a.Per, a.Reference)),
        ];
        foreach (Term term in terms)
            CheckTerm(question, term, context);
        context.Unique(terms.Select(t => (t.Measure, question.Place, $"{t.Path}.measure")), "term");
        string[] measures = [.. terms.Select(t => t.Measure)];
        for (int i = 0; i < question.Interactions.Length; i++)
        {
            InteractionTerm pair = question.Interactions[i];
            CheckNamed(question, $"interactions[{i}].first", pair.First, measures, context);
            CheckNamed(question, $"interactions[{i}].second", pair.Second, measures, context);
            if (pair.First == pair.Second && pair.First.Length > 0)
            {
                context.Fault(
                    question.Place, $"interactions[{i}].second",
                    $"'{pair.First}' cannot interact with itself.", "Name two terms.");
            }
        }
        if (question.RandomSlope is { } slope)
        {
            CheckNamed(question, "random_slope", slope, measures, context);
            if (context.Measure(question.Place, "random_slope", slope) is { IsNumeric: false })
            {
                context.Fault(
                    question.Place, "random_slope", $"'{slope}' has no numbers.",
                    "Name a measure of numbers, such as time or age.");
            }
        }
    }

    private static void CheckTerm(QuestionDefinition question, Term term, RuleContext context)
    {
        string measurePath = $"{term.Path}.measure";
        if (term.Measure == question.Outcome && term.Measure.Length > 0)
        {
            context.Fault(
                question.Place, measurePath, $"'{term.Measure}' is the outcome of {question.Id}.",
                "Remove it from the terms.");
        }
        if (QuestionRules.Covering(question, measurePath, term.Measure, context) is not { } nature)
            return;
        if (nature.Kind == ValueKind.Code)
            CheckCoded(question, term, nature, context);
        else if (context.Written(question.Place, $"{term.Path}.reference"))
        {
            context.Fault(
                question.Place, $"{term.Path}.reference",
                $"'{term.Measure}' has no codes and so no reference.",
                "Remove 'reference'; use 'center' for numbers.");
        }
        if (term.Per == 0)
        {
            context.Fault(
                question.Place, $"{term.Path}.per", "An effect per 0 means nothing.",
                "Write the step, such as 10.");
        }
    }

    private static void CheckCoded(QuestionDefinition question, Term term, ValueNature nature, RuleContext context)
    {
        foreach (string key in new[] { "per", "center" })
        {
            if (context.Written(question.Place, $"{term.Path}.{key}"))
            {
                context.Fault(
                    question.Place, $"{term.Path}.{key}", $"'{term.Measure}' has codes, which have no steps.",
                    $"Remove '{key}'; use 'reference' for codes.");
            }
        }
        if (term.Reference is { } reference && !nature.Codes.Contains(reference))
        {
            context.Fault(
                question.Place, $"{term.Path}.reference",
                $"Measure '{term.Measure}' has no code '{reference}'.",
                NearestName.Hint(reference, nature.Codes));
        }
    }

    private static void CheckNamed(QuestionDefinition question, string path, string measure, string[] terms, RuleContext context)
    {
        if (measure.Length > 0 && !terms.Contains(measure))
        {
            context.Fault(
                question.Place, path, $"'{measure}' is no term of {question.Id}.",
                NearestName.Hint(measure, terms));
        }
    }

    private sealed record Term(string Path, string Measure, double Per, string? Reference);
}
