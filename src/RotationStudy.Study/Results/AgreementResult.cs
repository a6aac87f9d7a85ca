using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>How well readings agree: what a question of kind agreement found, as numbers.</summary>
/// <param name="Unit">Unit of the readings; null for none.</param>
/// <param name="Reliability">Correlations and errors, between raters and within each, by side.</param>
/// <param name="Limits">Limits of agreement of pairs of raters, of sessions, and of each rater with the reference.</param>
public sealed record AgreementResult(string? Unit, ImmutableArray<ReliabilityLine> Reliability, ImmutableArray<LimitsLine> Limits);

/// <summary>One line of reliability.</summary>
/// <param name="Scope">"between raters", "between any raters" (subjects read by two or more, not all by the same) or "within rater".</param>
/// <param name="Group">Whose: "all", a group such as a site, or a rater.</param>
/// <param name="Side">Side; empty where there are none. The two sides of a person are no two subjects, so each has its line.</param>
/// <param name="Subjects">Subjects with all ratings.</param>
/// <param name="Incomplete">Subjects left out because a rating is missing.</param>
/// <param name="Ratings">Ratings of each subject: raters or sessions; the most of any subject between any raters.</param>
/// <param name="Agreement">Systematic differences count: ICC(2,1) between raters, ICC(1,1) between any raters and between sessions of a rater.</param>
/// <param name="AgreementLower">Lower end of its 95% interval.</param>
/// <param name="AgreementUpper">Upper end.</param>
/// <param name="Consistency">ICC(3,1): systematic differences do not count; null between any raters, where they cannot be told from the rest.</param>
/// <param name="ConsistencyLower">Lower end of its 95% interval.</param>
/// <param name="ConsistencyUpper">Upper end.</param>
/// <param name="Error">Standard error of measurement, systematic differences included, unit of the readings.</param>
/// <param name="ErrorLower">Lower end of its 95% interval.</param>
/// <param name="ErrorUpper">Upper end.</param>
/// <param name="DetectableChange">Smallest detectable change of one subject.</param>
public sealed record ReliabilityLine(
    string Scope, string Group, string Side, int Subjects, int Incomplete, int Ratings,
    double Agreement, double AgreementLower, double AgreementUpper,
    double? Consistency, double? ConsistencyLower, double? ConsistencyUpper,
    double Error, double ErrorLower, double ErrorUpper, double DetectableChange);

/// <summary>Limits of agreement of two readings of one side.</summary>
/// <param name="First">First reading.</param>
/// <param name="Second">Second reading.</param>
/// <param name="Participants">Participants.</param>
/// <param name="Pairs">Pairs; both sides of a person are pairs of one subject.</param>
/// <param name="Bias">Mean of first minus second.</param>
/// <param name="BiasLower">Lower end of its 95% interval.</param>
/// <param name="BiasUpper">Upper end.</param>
/// <param name="Lower">Lower limit, below which 2.5% of differences lie.</param>
/// <param name="LowerLower">Lower end of its 95% interval.</param>
/// <param name="LowerUpper">Upper end.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="UpperLower">Lower end of its 95% interval.</param>
/// <param name="UpperUpper">Upper end.</param>
/// <param name="Slope">Change of the difference per unit of the mean of the two; null where not asked.</param>
/// <param name="SlopeLower">Lower end of its 95% interval.</param>
/// <param name="SlopeUpper">Upper end.</param>
public sealed record LimitsLine(
    string First, string Second, int Participants, int Pairs,
    double Bias, double BiasLower, double BiasUpper,
    double Lower, double LowerLower, double LowerUpper, double Upper, double UpperLower, double UpperUpper,
    double? Slope, double? SlopeLower, double? SlopeUpper)
{
    /// <summary>Whose pairs: "all", or a group such as a site.</summary>
    public string Group { get; init; } = "all";

    /// <summary>Mean of the two readings of each pair.</summary>
    public ImmutableArray<double> Means { get; init; } = [];

    /// <summary>First minus second of each pair, in the same order.</summary>
    public ImmutableArray<double> Differences { get; init; } = [];
}
