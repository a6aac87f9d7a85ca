using System.Collections.Immutable;
using RotationStudy.Statistics.Sharing;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Sharing;

/// <summary>What is asked of the sites next.</summary>
public enum SharingStep
{
    /// <summary>Score and information at the request's estimate.</summary>
    Sums,

    /// <summary>The parts of the cluster-robust covariance at the estimate reached.</summary>
    Closing,

    /// <summary>Nothing: the answer is there.</summary>
    Done,
}

/// <summary>A column of a shared model, from the plan alone, so that all sites have the same.</summary>
/// <param name="Name">Name in the model.</param>
/// <param name="Label">What its estimate says.</param>
/// <param name="Role">intercept, exposure, adjustment or interaction.</param>
/// <param name="Of">The two columns whose product it is; empty otherwise.</param>
public sealed record SharedColumn(string Name, string Label, string Role, ImmutableArray<string> Of);

/// <summary>What a site hands out in one round: counts and sums, no row, no identifier.</summary>
/// <param name="Format">The text "rotationstudy site share".</param>
/// <param name="Version">Version of the format.</param>
/// <param name="ProgramVersion">Version of the program that made it.</param>
/// <param name="ProtocolSha256">Hash over the protocol's files.</param>
/// <param name="Question">Question of the plan.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="Round">Round, from 1.</param>
/// <param name="AnswersSha256">Hash of the request that it answers; null in the first round.</param>
/// <param name="Columns">Columns of the model.</param>
/// <param name="Persons">Persons behind the sums.</param>
/// <param name="Sums">Sums at the request's estimate; null in the closing round.</param>
/// <param name="Robust">Parts of the robust covariance; null before the closing round.</param>
public sealed record SiteShare(
    string Format, int Version, string ProgramVersion, string ProtocolSha256, string Question, string Site, int Round, string? AnswersSha256,
    ImmutableArray<SharedColumn> Columns, int Persons, RegressionSums? Sums, RobustSums? Robust);

/// <summary>What the sites are asked next, with the answer as far as it is known.</summary>
/// <param name="Format">The text "rotationstudy site request".</param>
/// <param name="Version">Version of the format.</param>
/// <param name="ProgramVersion">Version of the program that made it.</param>
/// <param name="ProtocolSha256">Hash over the protocol's files.</param>
/// <param name="Question">Question of the plan.</param>
/// <param name="Step">What is asked.</param>
/// <param name="Round">The round that the sites' next files belong to.</param>
/// <param name="Columns">Columns of the model, without those that say nothing in these data.</param>
/// <param name="Estimate">Coefficients.</param>
/// <param name="Bread">Inverse information at the coefficients, row by row, for the closing round; empty before.</param>
/// <param name="Persons">Persons of all sites.</param>
/// <param name="Rows">Rows of all sites.</param>
/// <param name="Sites">The sites; who has joined stays in, with the same rows.</param>
/// <param name="History">The rounds so far.</param>
/// <param name="Answer">The answer; null while it is not known.</param>
/// <param name="Notes">What was left out, and why.</param>
public sealed record SiteRequest(
    string Format, int Version, string ProgramVersion, string ProtocolSha256, string Question, SharingStep Step, int Round,
    ImmutableArray<SharedColumn> Columns, ImmutableArray<double> Estimate, ImmutableArray<double> Bread, int Persons, int Rows,
    ImmutableArray<SharingSite> Sites, ImmutableArray<SharingRound> History, SharedAnswer? Answer, ImmutableArray<string> Notes);

/// <summary>A site that takes part.</summary>
/// <param name="Site">Code.</param>
/// <param name="Persons">Persons.</param>
/// <param name="Rows">Rows.</param>
public sealed record SharingSite(string Site, int Persons, int Rows);

/// <summary>A round that is over.</summary>
/// <param name="Round">Round, from 1.</param>
/// <param name="LogLikelihood">Log-likelihood without what depends on the outcome alone.</param>
/// <param name="Decrement">Squared length of the next step in standard errors.</param>
/// <param name="Estimate">Coefficients of the round.</param>
public sealed record SharingRound(int Round, double LogLikelihood, double Decrement, ImmutableArray<double> Estimate);

/// <summary>The answer from the sums of all sites.</summary>
/// <param name="Model">The model and its variance in words.</param>
/// <param name="AsPlanned">Whether the variance is that of the plan; else the closing round gives it.</param>
/// <param name="Estimates">Estimates.</param>
public sealed record SharedAnswer(string Model, bool AsPlanned, ImmutableArray<EstimateRow> Estimates);
