using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>sites.yaml: which questions are also answered by site, and what a site that shares no rows may reveal.</summary>
/// <param name="Measure">Measure of codes with one site per participant.</param>
/// <param name="SmallestGroup">A site hands out no sums in which fewer persons than this stand alone.</param>
/// <param name="Questions">Questions of the plan.</param>
public sealed record SitePlan(string Measure, int SmallestGroup, ImmutableArray<SiteQuestion> Questions);

/// <summary>A question that is also answered by site.</summary>
/// <param name="Question">Id of the question.</param>
/// <param name="Reason">Why sites may differ in it, a sentence.</param>
public sealed record SiteQuestion(string Question, string Reason);
