using System.Collections.Immutable;
using RotationStudy.Statistics.Multiplicity;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Tests that share an error rate are judged together: Holm's adjustment over the exposures of a family's questions.</summary>
/// <remarks>Unadjusted intervals and p values stay in the tables; the adjusted ones stand beside them as a line of their own.</remarks>
public static class FamilyAdjustment
{
    /// <summary>Adds to every answered question of a family what its tests say when judged together.</summary>
    /// <param name="plan">The plan that names the families.</param>
    /// <param name="questions">Answers, in the order of the plan.</param>
    public static ImmutableArray<QuestionResult> Apply(AnalysisPlan plan, ImmutableArray<QuestionResult> questions)
    {
        QuestionResult[] adjusted = [.. questions];
        foreach (IGrouping<string, QuestionDefinition> family in plan.Questions.Where(q => q.Family is not null).GroupBy(q => q.Family!, StringComparer.Ordinal))
        {
            (int Question, EstimateRow Row)[] tests = [.. family.SelectMany(definition =>
            {
                int position = Array.FindIndex(adjusted, q => q.Id == definition.Id);
                return adjusted[position].Estimates.Where(e => e.Role is "exposure" or "interaction").Select(e => (position, e));
            })];
            if (tests.Length < 2)
                continue;
            IReadOnlyList<double> holm = HolmAdjustment.Adjust([.. tests.Select(t => t.Row.PValue)]);
            foreach (int position in tests.Select(t => t.Question).Distinct())
                adjusted[position] = WithLine(adjusted[position], family.Key, tests.Length, [.. tests.Zip(holm).Where(t => t.First.Question == position).Select(t => (t.First.Row, t.Second))]);
        }
        return [.. adjusted];
    }

    private static QuestionResult WithLine(QuestionResult question, string family, int tests, ImmutableArray<(EstimateRow Row, double Adjusted)> own)
    {
        string words = $"Judged together with the {tests} tests of the family '{family}' (Holm): {string.Join("; ", own.Select(o => $"{o.Row.Label}, adjusted {Sentences.PValue(o.Adjusted)}"))}.";
        Dictionary<string, double> adjusted = own.ToDictionary(o => o.Row.Term, o => o.Adjusted, StringComparer.Ordinal);
        question = question with
        {
            Estimates = [.. question.Estimates.Select(e => adjusted.TryGetValue(e.Term, out double p) && e.Role != "adjustment" ? e with { FamilyPValue = p } : e)],
        };
        return question with { Diagnostics = question.Diagnostics.Add(new DiagnosticRow("Several tests", null, words)), Citations = question.Citations.Contains(Sources.Holm) ? question.Citations : question.Citations.Add(Sources.Holm) };
    }
}
