using System.Collections.Immutable;
using RotationStudy.Statistics.Pooling;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Sites;

/// <summary>Effects by site: the planned model at each site, a random-effects summary of the sites, and the planned model without each site.</summary>
public static class SiteEffectsAnalysis
{
    /// <summary>One result per question and exposure that sites.yaml asks for, in its order; empty without that file.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="measures">All measures.</param>
    public static ImmutableArray<SiteEffects> Build(StudyProtocol protocol, DerivedMeasures measures)
    {
        if (protocol.Sites is not { } plan)
            return [];
        ImmutableArray<SiteEffects>.Builder effects = ImmutableArray.CreateBuilder<SiteEffects>();
        foreach (SiteQuestion asked in plan.Questions)
        {
            QuestionDefinition question = protocol.Plan.Questions.First(q => q.Id == asked.Question);
            AnalysisInput input = AnalysisInput.Prepare(protocol, measures, question);
            if (input.Blocked is null)
                effects.AddRange(OfQuestion(input, asked.Reason, measures[plan.Measure]));
        }
        return effects.ToImmutable();
    }

    private static IEnumerable<SiteEffects> OfQuestion(AnalysisInput input, string reason, MeasureColumn sites)
    {
        ImmutableArray<(CodeDefinition Site, int[] Rows)> split = SiteRows.Split(input.Table, sites);
        int[] all = [.. split.SelectMany(s => s.Rows).Order()];
        SiteFit[] own = [.. split.Select(s => SiteFit.Of(input, s.Site.Meaning, s.Rows))];
        SiteFit[] without = split.Length < 3 ? [] : [.. split.Select(s => SiteFit.Of(input, s.Site.Meaning, [.. all.Except(s.Rows)]))];
        return input.Terms.Terms.Where(t => t.Role != "adjustment").Select(term => OfTerm(input, reason, term, own, without));
    }

    private static SiteEffects OfTerm(AnalysisInput input, string reason, ModelTerm term, SiteFit[] own, SiteFit[] without)
    {
        bool ratio = PlannedModel.IsRatio(input.Question.Kind);
        Func<double, double> map = ratio ? Math.Exp : v => v;
        SiteEstimate[] sites = [.. own.Select(f => f.Estimate(term))];
        int[] known = [.. Enumerable.Range(0, sites.Length).Where(i => sites[i].Estimate is { ModelStandardError: > 0 })];
        double[] values = [.. known.Select(i => sites[i].Estimate!.ModelValue)];
        double[] errors = [.. known.Select(i => sites[i].Estimate!.ModelStandardError!.Value)];
        ImmutableArray<PooledEffect> pooled = [];
        List<string> notes = [.. sites.Where(s => s.NotFitted is not null).Select(s => $"{s.Site} has no estimate and is not in the summary: {s.NotFitted}.")];
        if (known.Length >= 2)
        {
            RandomEffectsFit main = RandomEffects.Pool(values, errors);
            RandomEffectsFit moments = RandomEffects.Pool(values, errors, new RandomEffectsOptions { Between = BetweenVarianceMethod.DerSimonianLaird, Adjusted = false });
            pooled =
            [
                Pooled("restricted likelihood; Hartung, Knapp, Sidik and Jonkman", main, map),
                Pooled("method of moments (DerSimonian and Laird); normal reference", moments, map),
            ];
            for (int i = 0; i < known.Length; i++)
                sites[known[i]] = sites[known[i]] with { Share = main.Shares[i] };
            notes.AddRange(main.Warnings.Select(w => char.ToUpperInvariant(w[0]) + w[1..] + "."));
        }
        string scale = sites.Select(s => s.Estimate?.Scale).FirstOrDefault(s => s is not null) ?? PlannedModel.Scale(input.Question.Kind);
        string? unit = ratio ? null : input.Measures[input.Question.Outcome!].Definition.Unit;
        double none = ratio ? 1 : 0;
        return new SiteEffects(
            input.Question.Id, reason, term.Name, term.Label, scale, unit, none, [.. sites], pooled, [.. without.Select(f => f.Estimate(term))],
            Sentence(pooled, sites.Length, known.Length, scale, unit), [.. notes]);
    }

    private static PooledEffect Pooled(string method, RandomEffectsFit fit, Func<double, double> map) => new(
        method, map(fit.Mean.Value), map(fit.Mean.Interval.Lower), map(fit.Mean.Interval.Upper), fit.Mean.PValue,
        map(fit.Prediction.Lower), map(fit.Prediction.Upper),
        fit.BetweenVariance, fit.BetweenVarianceInterval.Lower, fit.BetweenVarianceInterval.Upper,
        fit.Heterogeneity.Statistic, fit.Sources - 1, fit.Heterogeneity.PValue,
        fit.Inconsistency, fit.InconsistencyInterval.Lower, fit.InconsistencyInterval.Upper);

    private static string Sentence(ImmutableArray<PooledEffect> pooled, int sites, int known, string scale, string? unit)
    {
        if (pooled.IsEmpty)
            return $"{known} of {sites} sites have an estimate, too few for a summary.";
        PooledEffect p = pooled[0];
        string of = unit is null ? string.Empty : " " + unit;
        return $"Mean of {known} sites: {scale} {Sentences.Number(p.Mean)}{of} (95% CI {Sentences.Number(p.Lower)} to {Sentences.Number(p.Upper)}, {Sentences.PValue(p.PValue)}); "
            + $"at another site like these between {Sentences.Number(p.PredictionLower)} and {Sentences.Number(p.PredictionUpper)} (95% prediction interval). "
            + $"Variation that is not chance: {Sentences.Number(100 * p.Inconsistency)}% (I squared, 95% CI {Sentences.Number(100 * p.InconsistencyLower)} to {Sentences.Number(100 * p.InconsistencyUpper)}%); "
            + $"that all sites share one effect: {Sentences.PValue(p.QPValue)}.";
    }
}
