using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses;

/// <summary>Measures that have no value at all, and measures that never vary.</summary>
internal static class PlanColumns
{
    /// <summary>Each measure that has no value in any row of the population, with the commonest reason.</summary>
    internal static void CheckPresent(AnalysisInput input, PlanFaultList faults)
    {
        foreach ((string path, string id) in Named(input.Question))
        {
            AnalysisTable alone = TableBuilder.Build(input.Measures, input.Question.Rows, [id], input.Question.Keep);
            if (alone.Rows > 0)
                continue;
            string reason = alone.LeftOut.IsEmpty ? "no row" : alone.LeftOut[0].Reason;
            string what = $"'{id}' has no value in any of the {alone.Population} rows of this question ({reason}).";
            bool besideTheModel = path.StartsWith("characteristics", StringComparison.Ordinal)
                || path.StartsWith("summaries", StringComparison.Ordinal)
                || (path == "group_by" && input.Question.Kind is not (QuestionKind.Baseline or QuestionKind.Curves));
            if (besideTheModel)
                faults.Warn(path, what, "Leave it out, or look at the column in the export.");
            else
                faults.Stop(path, what, "Look at the column in the export, or name another measure.");
        }
    }

    /// <summary>An outcome or an exposure that is the same in every complete row.</summary>
    internal static void CheckVariation(AnalysisInput input, PlanFaultList faults)
    {
        QuestionDefinition question = input.Question;
        if (question.Outcome is { } outcome && question.Kind is not (QuestionKind.Rate or QuestionKind.RecurrentEvents) && Constant(input.Values(outcome)))
            faults.Stop("outcome", $"The outcome '{outcome}' has the same value in all {input.Table.Rows} complete rows.", "Nothing can be associated with what never varies; follow the cohort for longer, or name another outcome.");
        for (int i = 0; i < question.Exposures.Length; i++)
        {
            string exposure = question.Exposures[i].Measure;
            if (Constant(input.Values(exposure)))
                faults.Stop($"exposures[{i}].measure", $"The exposure '{exposure}' has the same value in all {input.Table.Rows} complete rows.", "Name another exposure, or a population in which it varies.");
        }
        for (int i = 0; i < question.Adjustment.Length; i++)
        {
            string measure = question.Adjustment[i].Measure;
            if (Constant(input.Values(measure)))
                faults.Warn($"adjustment[{i}].measure", $"'{measure}' has the same value in all {input.Table.Rows} complete rows and cannot be adjusted for.", "It is left out; the other estimates are unchanged by this.");
        }
        if (input.Table.ParticipantCount < 2)
            faults.Stop("", $"All complete rows belong to one {input.Protocol.Study.ParticipantWords.One}.", "One person says nothing about others.");
    }

    /// <summary>Measures by the place where the question names them.</summary>
    private static IEnumerable<(string Path, string Id)> Named(QuestionDefinition question)
        => new[]
            {
                ("outcome", question.Outcome), ("follow_up", question.FollowUp), ("entry", question.Entry),
                ("exit", question.Exit), ("event", question.Event), ("group_by", question.GroupBy),
            }
            .Concat(question.Exposures.Select((e, i) => ($"exposures[{i}].measure", (string?)e.Measure)))
            .Concat(question.Adjustment.Select((a, i) => ($"adjustment[{i}].measure", (string?)a.Measure)))
            .Concat(question.Characteristics.Select((c, i) => ($"characteristics[{i}]", (string?)c)))
            .Concat(question.Summaries.Select((s, i) => ($"summaries[{i}]", (string?)s)))
            .Where(n => n.Item2 is not null)
            .Select(n => (n.Item1, n.Item2!));

    internal static bool Constant(ImmutableArray<double> values) => values.AsSpan().IndexOfAnyExcept(values[0]) < 0;
}
