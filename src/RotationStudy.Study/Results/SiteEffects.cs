using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>The estimate of one term of a question by site, pooled over sites, and without each site.</summary>
/// <param name="Question">Question id.</param>
/// <param name="Reason">Why the protocol asks for it.</param>
/// <param name="Term">Term in the model.</param>
/// <param name="Label">What the estimate is of, with its step.</param>
/// <param name="Scale">What the numbers are, such as "rate ratio".</param>
/// <param name="Unit">Unit of a difference; null for ratios.</param>
/// <param name="NoEffect">Value of no association: 0 or 1.</param>
/// <param name="Sites">Estimate of each site, in the order of the codes.</param>
/// <param name="Pooled">Random-effects summaries, the one to read first; empty where fewer than two sites have an estimate.</param>
/// <param name="Without">The planned model without each site.</param>
/// <param name="Sentence">What the sites say together.</param>
/// <param name="Notes">What a reader should know.</param>
public sealed record SiteEffects(
    string Question, string Reason, string Term, string Label, string Scale, string? Unit, double NoEffect,
    ImmutableArray<SiteEstimate> Sites, ImmutableArray<PooledEffect> Pooled, ImmutableArray<SiteEstimate> Without,
    string Sentence, ImmutableArray<string> Notes);

/// <summary>An estimate from the rows of one site, or from all rows but its own.</summary>
/// <param name="Site">The site in words.</param>
/// <param name="Participants">Participants behind it.</param>
/// <param name="Estimate">The estimate; null where the fit failed.</param>
/// <param name="Share">Share of the site in the pooled mean, 0 to 1; null where it has no estimate or is the one left out.</param>
/// <param name="NotFitted">Why there is no estimate; null where there is one.</param>
public sealed record SiteEstimate(string Site, int Participants, EstimateRow? Estimate, double? Share, string? NotFitted);

/// <summary>A random-effects summary of the sites' estimates, on the scale named there.</summary>
/// <param name="Method">How the variances were estimated, in words.</param>
/// <param name="Mean">Mean effect of the sites.</param>
/// <param name="Lower">Lower end of its 95% interval.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="PValue">Two-sided p value of no association.</param>
/// <param name="PredictionLower">Lower end of the 95% interval for the effect at another site like these.</param>
/// <param name="PredictionUpper">Upper end.</param>
/// <param name="BetweenVariance">Variance between sites on the scale of the model, tau squared.</param>
/// <param name="BetweenLower">Lower end of its 95% interval.</param>
/// <param name="BetweenUpper">Upper end.</param>
/// <param name="Q">Cochran's Q.</param>
/// <param name="QDegreesOfFreedom">Sites less one.</param>
/// <param name="QPValue">p value that all sites share one effect.</param>
/// <param name="Inconsistency">I squared, 0 to 1.</param>
/// <param name="InconsistencyLower">Lower end of its 95% interval.</param>
/// <param name="InconsistencyUpper">Upper end.</param>
public sealed record PooledEffect(
    string Method, double Mean, double Lower, double Upper, double PValue, double PredictionLower, double PredictionUpper,
    double BetweenVariance, double BetweenLower, double BetweenUpper, double Q, int QDegreesOfFreedom, double QPValue,
    double Inconsistency, double InconsistencyLower, double InconsistencyUpper);
