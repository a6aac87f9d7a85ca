using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of sites.yaml: the measure names a site per participant, and the questions have an effect that sites can differ in.</summary>
internal static class SiteRules
{
    // Common practice, no source: with two persons each could work out the other.
    private const int FewestPersons = 3;

    internal static void Check(RuleContext context)
    {
        if (context.Protocol.Sites is not { } plan)
            return;
        Place owner = PlaceBook.TopOf(SitesReader.File);
        if (context.Measure(owner, "measure", plan.Measure) is { } nature && (nature.Kind != ValueKind.Code || nature.Level != RowLevel.Participant))
            context.Fault(owner, "measure", $"'{plan.Measure}' does not name a site for each participant.", "Name a measure of codes with one value per participant.");
        if (plan.SmallestGroup < FewestPersons && context.Written(owner, "smallest_group"))
            context.Fault(owner, "smallest_group", FormattableString.Invariant($"A group of {plan.SmallestGroup} shows what single persons have."), $"Write {FewestPersons} or more; 5 and 10 are usual.");
        context.Unique(plan.Questions.Select((q, i) => (q.Question, owner, $"questions[{i}].question")), "question");
        for (int i = 0; i < plan.Questions.Length; i++)
            CheckQuestion(plan.Questions[i].Question, $"questions[{i}].question", owner, context);
    }

    private static void CheckQuestion(string id, string path, Place owner, RuleContext context)
    {
        if (id.Length == 0)
            return;
        if (context.Protocol.Plan.Questions.FirstOrDefault(q => q.Id == id) is not { } question)
        {
            context.Fault(owner, path, $"No question is called '{id}'.", NearestName.Hint(id, [.. context.Protocol.Plan.Questions.Select(q => q.Id)]));
            return;
        }
        if (question.Kind is QuestionKind.Baseline or QuestionKind.Agreement)
            context.Fault(owner, path, $"{id} estimates no effect of an exposure.", "Name a question with exposures.");
    }
}
