using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Targets of planning.yaml belong to questions of the plan and have names of their own.</summary>
internal static class SizePlanRules
{
    internal static void Check(RuleContext context)
    {
        if (context.Protocol.Size is not { } plan)
            return;
        context.Unique(plan.Targets.Select(t => (t.Id, t.Place, "id")), "target");
        string[] questions = [.. context.Protocol.Plan.Questions.Select(q => q.Id)];
        foreach (SizeTarget target in plan.Targets)
        {
            if (target.Question is { } id && !questions.Contains(id))
                context.Fault(target.Place, "question", $"No question is called '{id}'.", NearestName.Hint(id, questions));
        }
    }
}
