using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Sharing;

/// <summary>Turns coefficients from sums into the rows that a report of the pooled rows would have.</summary>
internal static class SharedAnswers
{
    internal static SharedAnswer Of(QuestionDefinition question, StudyProtocol protocol, SiteRequest request, Coefficients coefficients, bool asPlanned)
    {
        bool ratio = PlannedModel.IsRatio(question.Kind);
        string scale = PlannedModel.Scale(question.Kind);
        string? unit = ratio ? null : protocol.Measure(question.Outcome!).Unit;
        ImmutableArray<EstimateRow> rows = [.. request.Columns.Where(c => c.Role != "intercept").Select(c => EstimateRows.Row(
            coefficients.Estimate(c.Name), new ModelTerm(c.Name, c.Label, c.Role, c.Name, []),
            c.Role == "interaction" && ratio ? $"ratio of {scale}s" : scale, unit, ratio ? 1 : 0, ratio ? Math.Exp : v => v, coefficients.VarianceMethod))];
        string model = question.Kind switch
        {
            QuestionKind.Mean => "Linear regression by least squares",
            QuestionKind.Odds => "Logistic regression by maximum likelihood",
            _ => "Poisson regression with the log of follow-up as offset, which stands beside the negative binomial one in a report of pooled rows",
        };
        return new SharedAnswer($"{model}, from sums of {request.Sites.Length} sites ({coefficients.VarianceMethod}).", asPlanned, rows);
    }
}
