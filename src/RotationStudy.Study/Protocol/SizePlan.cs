using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>planning.yaml: what the study is to be able to find, and what is assumed for it.</summary>
/// <param name="Level">Level of the two-sided tests.</param>
/// <param name="Power">Power that is asked for.</param>
/// <param name="Participants">Participants that the study expects to enrol.</param>
/// <param name="Targets">What is to be found, in the order of the file.</param>
public sealed record SizePlan(double Level, double Power, int Participants, ImmutableArray<SizeTarget> Targets);

/// <summary>One effect to be found, or one number to be known.</summary>
/// <param name="Id">Name.</param>
/// <param name="Label">What it is, in words.</param>
/// <param name="Question">Question of the plan that it belongs to; null for none.</param>
/// <param name="Source">Where the assumptions come from.</param>
/// <param name="Goal">What is asked for.</param>
/// <param name="Place">Where it stands.</param>
public sealed record SizeTarget(string Id, string Label, string? Question, string Source, SizeGoal Goal, Place Place);

/// <summary>What a target asks for.</summary>
public abstract record SizeGoal;

/// <summary>What is assumed of an exposure and its effect.</summary>
/// <param name="Effect">Ratio, or change of the outcome, per step of the exposure.</param>
/// <param name="Sd">Standard deviation of the exposure in the same steps.</param>
/// <param name="Explained">Share of the exposure's variance that the other terms explain.</param>
/// <param name="OutcomeCorrelation">Correlation of outcomes of one participant.</param>
/// <param name="ExposureCorrelation">Correlation of the exposure within participants.</param>
/// <param name="RowsPerParticipant">Rows that a participant brings to the analysis, such as knees with imaging.</param>
public sealed record ExposureAssumptions(
    double Effect, double Sd, double Explained, double OutcomeCorrelation, double ExposureCorrelation, double RowsPerParticipant);

/// <summary>To find a hazard ratio.</summary>
/// <param name="Exposure">The exposure.</param>
/// <param name="EventShare">Share of rows with an event in the follow-up.</param>
public sealed record HazardRatioGoal(ExposureAssumptions Exposure, double EventShare) : SizeGoal;

/// <summary>To find an odds ratio.</summary>
/// <param name="Exposure">The exposure.</param>
/// <param name="EventShare">Probability of the outcome at the mean of the exposure.</param>
public sealed record OddsRatioGoal(ExposureAssumptions Exposure, double EventShare) : SizeGoal;

/// <summary>To find a rate ratio.</summary>
/// <param name="Exposure">The exposure.</param>
/// <param name="EventsPerRow">Expected events of a row in its follow-up.</param>
/// <param name="Dispersion">Dispersion of the negative binomial; 0 for Poisson.</param>
public sealed record RateRatioGoal(ExposureAssumptions Exposure, double EventsPerRow, double Dispersion) : SizeGoal;

/// <summary>To find a change of a mean.</summary>
/// <param name="Exposure">The exposure.</param>
/// <param name="ResidualSd">Standard deviation of the outcome that the model leaves.</param>
/// <param name="Coefficients">Coefficients of the model, with the intercept.</param>
public sealed record DifferenceGoal(ExposureAssumptions Exposure, double ResidualSd, int Coefficients) : SizeGoal;

/// <summary>To know an intraclass correlation with an interval of that width.</summary>
/// <param name="Correlation">Expected correlation.</param>
/// <param name="Readings">Readings per subject.</param>
/// <param name="Width">Full width of the interval.</param>
public sealed record IntraclassGoal(double Correlation, int Readings, double Width) : SizeGoal;

/// <summary>To know limits of agreement with an interval of that half width.</summary>
/// <param name="DifferenceSd">Standard deviation of the differences.</param>
/// <param name="HalfWidth">Half the width of the interval of a limit.</param>
public sealed record LimitsGoal(double DifferenceSd, double HalfWidth) : SizeGoal;
