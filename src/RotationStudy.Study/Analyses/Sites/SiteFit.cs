using RotationStudy.Statistics;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Sites;

/// <summary>The planned model on some rows, or why it could not be fitted.</summary>
internal sealed class SiteFit
{
    private readonly string site;
    private readonly AnalysisInput input;
    private readonly Coefficients? coefficients;
    private readonly string? notFitted;

    private SiteFit(string site, AnalysisInput input, Coefficients? coefficients, string? notFitted)
    {
        this.site = site;
        this.input = input;
        this.coefficients = coefficients;
        this.notFitted = notFitted;
    }

    internal static SiteFit Of(AnalysisInput whole, string site, int[] rows)
    {
        AnalysisInput input = SiteRows.With(whole, rows);
        if (input.Blocked is { } blocked)
            return new SiteFit(site, input, null, blocked);
        try
        {
            return new SiteFit(site, input, PlannedModel.Fit(input), null);
        }
        catch (StatisticsError error)
        {
            return new SiteFit(site, input, null, error.What);
        }
    }

    internal SiteEstimate Estimate(ModelTerm term)
    {
        int people = input.Table.ParticipantCount;
        if (coefficients is null)
            return new SiteEstimate(site, people, null, null, notFitted);
        if (!coefficients.Terms.Contains(term.Name))
            return new SiteEstimate(site, people, null, null, $"nobody there can speak about {Sentences.LowerFirst(term.Label)}");
        bool ratio = PlannedModel.IsRatio(input.Question.Kind);
        string scale = PlannedModel.Scale(input.Question.Kind);
        EstimateRow row = EstimateRows.Row(
            coefficients.Estimate(term.Name), term, term.Role == "interaction" && ratio ? $"ratio of {scale}s" : scale,
            ratio ? null : input.Measures[input.Question.Outcome!].Definition.Unit, ratio ? 1 : 0, ratio ? Math.Exp : v => v, coefficients.VarianceMethod);
        return new SiteEstimate(site, people, row, null, null);
    }
}
