using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>prediction.yaml: models developed on this cohort, and published scores applied to it.</summary>
/// <param name="Models">Models to develop.</param>
/// <param name="Scores">Published scores.</param>
public sealed record PredictionPlan(ImmutableArray<PredictionModel> Models, ImmutableArray<RiskScore> Scores);

/// <summary>A model that is developed on this cohort and judged, for research only.</summary>
/// <param name="Id">Short name, unlike any question's.</param>
/// <param name="Title">Title.</param>
/// <param name="Asks">What it asks, a sentence.</param>
/// <param name="Rows">What a row is.</param>
/// <param name="Outcome">Measure of yes and no.</param>
/// <param name="Horizon">Within what time the outcome is meant, in words.</param>
/// <param name="Keep">Rows kept; null for all.</param>
/// <param name="Predictors">Predictors, each with the reason why it is considered.</param>
/// <param name="Penalty">How coefficients are penalised.</param>
/// <param name="Folds">Folds of the cross-validation that chooses the strength.</param>
/// <param name="Resamples">Resamples of persons by which performance is corrected for optimism.</param>
/// <param name="HoldOut">Rows that take no part in development and on which the model is judged; null for none.</param>
/// <param name="Thresholds">Risks at which net benefit is given.</param>
/// <param name="Expected">What was expected before the data were opened, for the criteria of sample size.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record PredictionModel(
    string Id, string Title, string Asks, RowLevel Rows, string Outcome, string Horizon, RowFilter? Keep,
    ImmutableArray<AdjustmentTerm> Predictors, PredictionPenalty Penalty, int Folds, int Resamples, RowFilter? HoldOut,
    ImmutableArray<double> Thresholds, ExpectedPrediction Expected, Place Place);

/// <summary>How coefficients of a prediction model are penalised.</summary>
public enum PredictionPenalty
{
    /// <summary>All are drawn towards zero.</summary>
    Ridge,

    /// <summary>Some become zero.</summary>
    Lasso,
}

/// <summary>What is expected of a model before the data are opened.</summary>
/// <param name="Share">Share with the outcome.</param>
/// <param name="Nagelkerke">R squared of Nagelkerke.</param>
/// <param name="Source">Where both come from.</param>
public sealed record ExpectedPrediction(double Share, double Nagelkerke, string Source);

/// <summary>A published score of points.</summary>
/// <param name="Id">Short name, unlike any question's.</param>
/// <param name="Title">Title.</param>
/// <param name="Source">Publication, and what of it was read.</param>
/// <param name="Rows">What a row is.</param>
/// <param name="Outcome">Measure of yes and no that stands for the outcome of the publication.</param>
/// <param name="Horizon">Within what time the outcome is meant here, in words.</param>
/// <param name="Keep">Rows kept; null for all.</param>
/// <param name="Factors">What gives points.</param>
/// <param name="Risks">Published risk of each number of points; numbers whose risk could not be confirmed are left out.</param>
/// <param name="Mapping">How variables, people and outcome here stand for those of the publication, a sentence each.</param>
/// <param name="Unconfirmed">What could not be confirmed, a sentence each.</param>
/// <param name="Thresholds">Risks at which net benefit is given.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record RiskScore(
    string Id, string Title, string Source, RowLevel Rows, string Outcome, string Horizon, RowFilter? Keep,
    ImmutableArray<ScoreFactor> Factors, ImmutableArray<ScoreRisk> Risks,
    ImmutableArray<string> Mapping, ImmutableArray<string> Unconfirmed, ImmutableArray<double> Thresholds, Place Place);

/// <summary>A factor of a score: points where a measure is at or above, above or below a value, or has one of some codes.</summary>
/// <param name="Measure">The measure.</param>
/// <param name="Label">The factor in words.</param>
/// <param name="Points">Points it gives.</param>
/// <param name="AtLeast">At or above this; null where another rule holds.</param>
/// <param name="MoreThan">Above this.</param>
/// <param name="Below">Below this.</param>
/// <param name="Codes">One of these codes; empty where another rule holds.</param>
/// <param name="OtherSide">Whether the value of the other side of the person counts, not that of the row.</param>
public sealed record ScoreFactor(string Measure, string Label, int Points, double? AtLeast, double? MoreThan, double? Below, ImmutableArray<string> Codes, bool OtherSide);

/// <summary>The published risk of a number of points.</summary>
/// <param name="Points">Points.</param>
/// <param name="Risk">Risk, between 0 and 1.</param>
public sealed record ScoreRisk(int Points, double Risk);
