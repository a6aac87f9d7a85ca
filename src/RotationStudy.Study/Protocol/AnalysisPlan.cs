using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>The numbered questions of a study, fixed before the data are opened.</summary>
/// <param name="Dated">Date the plan was fixed, as the users state it.</param>
/// <param name="HipGate">The hip-first gate, or null where the study has none.</param>
/// <param name="Questions">The questions, in their order.</param>
public sealed record AnalysisPlan(DateOnly Dated, HipGate? HipGate, ImmutableArray<QuestionDefinition> Questions)
{
    /// <summary>Choices of which every combination is carried out, one entry per estimate followed.</summary>
    public ImmutableArray<ChoicePlan> Choices { get; init; } = [];
}

/// <summary>The hip-first gate: a visit with a painful or restricted hip, or none examined, is listed for the clinical team and its rotational profile is set aside.</summary>
/// <param name="Table">Table of the hip examination (participant, visit, side).</param>
/// <param name="Column">Code column with the finding.</param>
/// <param name="ClearCodes">Codes under which the rotational profile may be used.</param>
/// <param name="Reason">Why, printed in the report.</param>
public sealed record HipGate(string Table, string Column, ImmutableArray<string> ClearCodes, string Reason)
{
    /// <summary>How much a hip that is not clear closes.</summary>
    public HipGateLevel Level { get; init; } = HipGateLevel.Visit;

    /// <summary>Table with a row for each examination that a clinician cleared later (participant, visit and, where it has one, side); null for none.</summary>
    public string? Cleared { get; init; }
}

/// <summary>How much a hip that is not clear closes of the rotational profile.</summary>
public enum HipGateLevel
{
    /// <summary>Nothing; the visit is listed all the same. For sensitivity analyses.</summary>
    Off,

    /// <summary>The side of that hip, at that visit.</summary>
    Side,

    /// <summary>Both sides of that visit.</summary>
    Visit,

    /// <summary>Both sides at every visit of the participant.</summary>
    Participant,
}

/// <summary>The kinds of question the pipeline can carry out.</summary>
public enum QuestionKind
{
    /// <summary>Characteristics by group with standardized differences.</summary>
    Baseline,

    /// <summary>A numeric outcome: linear regression with cluster-robust variance.</summary>
    Mean,

    /// <summary>A numeric outcome over repeated rows: linear mixed model.</summary>
    Trajectory,

    /// <summary>A yes/no outcome: logistic regression with cluster-robust variance.</summary>
    Odds,

    /// <summary>A count over follow-up: negative binomial rate, with Poisson beside it.</summary>
    Rate,

    /// <summary>Time to the first event: Cox regression with cluster-robust variance and curves by group.</summary>
    TimeToFirst,

    /// <summary>Every event of a unit: Andersen-Gill regression with cluster-robust variance.</summary>
    AllEvents,

    /// <summary>Agreement of raters, sessions and a reference: intraclass correlations, error, limits of agreement.</summary>
    Agreement,

    /// <summary>An ordered outcome: proportional-odds regression with cluster-robust variance.</summary>
    OrderedOdds,

    /// <summary>Time to the first of several events that exclude each other: Fine-Gray regression, cause-specific Cox regression and curves by group.</summary>
    CompetingEvents,

    /// <summary>A yes/no outcome compared within participants: conditional logistic regression, each participant a matched set.</summary>
    WithinPerson,

    /// <summary>Curves over an arc: mean curves with simultaneous bands, two groups over the whole arc, summaries, agreement of trials.</summary>
    Curves,

    /// <summary>Every event of a unit where another event, such as an operation, ends them: regression of the mean number by Ghosh and Lin, with what tells the two apart beside it.</summary>
    RecurrentEvents,
}

/// <summary>One question of the plan. Fields that a kind does not use are null or empty; a field given for a kind that does not use it is a fault.</summary>
/// <param name="Id">Number by which report and figures refer to it, such as Q3.</param>
/// <param name="Title">Short title.</param>
/// <param name="Asks">The question as a sentence.</param>
/// <param name="Kind">How it is answered.</param>
/// <param name="Rows">What a row of the analysis table is.</param>
/// <param name="Outcome">Measure of the outcome (Mean, Trajectory, Odds, Rate, RecurrentEvents); null otherwise.</param>
/// <param name="FollowUp">Measure of the time at risk in days (Rate, RecurrentEvents); null otherwise.</param>
/// <param name="Entry">Measure of the entry time (AllEvents, optional for TimeToFirst); null otherwise.</param>
/// <param name="Exit">Measure of the exit time (TimeToFirst, AllEvents); null otherwise.</param>
/// <param name="Event">Measure that is 1 when the exit is an event (TimeToFirst, AllEvents), or when an event ended the follow-up (RecurrentEvents); null otherwise.</param>
/// <param name="Exposures">What the question is about.</param>
/// <param name="Adjustment">What it is adjusted for, each with the reason.</param>
/// <param name="Interactions">Pairs of terms whose product enters the model.</param>
/// <param name="GroupBy">Grouping measure for tables and curves; null for none.</param>
/// <param name="Characteristics">Measures listed in a baseline table.</param>
/// <param name="RandomSlope">Measure with a random slope per participant (Trajectory); null for a random intercept only.</param>
/// <param name="Keep">Rows kept; null keeps all.</param>
/// <param name="Family">Family of tests that share an error rate; null for a descriptive question.</param>
/// <param name="TimeUnitDays">Days per unit of time in tables and figures (365.25 for years); 1 where times are not days.</param>
/// <param name="TimeUnit">Name of the unit of time, such as years.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record QuestionDefinition(
    string Id,
    string Title,
    string Asks,
    QuestionKind Kind,
    RowLevel Rows,
    string? Outcome,
    string? FollowUp,
    string? Entry,
    string? Exit,
    string? Event,
    ImmutableArray<ExposureTerm> Exposures,
    ImmutableArray<AdjustmentTerm> Adjustment,
    ImmutableArray<InteractionTerm> Interactions,
    string? GroupBy,
    ImmutableArray<string> Characteristics,
    string? RandomSlope,
    RowFilter? Keep,
    string? Family,
    double TimeUnitDays,
    string? TimeUnit,
    Place Place)
{
    /// <summary>Readings by rater and session (Agreement); null otherwise.</summary>
    public ReadingColumn? Readings { get; init; }

    /// <summary>Measure that readings are compared with, such as imaging (Agreement, optional); null otherwise.</summary>
    public string? Reference { get; init; }

    /// <summary>Curves over an arc (Curves); null otherwise.</summary>
    public CurveColumn? Curves { get; init; }

    /// <summary>Measures of the curves that are compared between the groups (Curves); empty otherwise.</summary>
    public ImmutableArray<string> Summaries { get; init; } = [];

    /// <summary>Terms that are measured with error, and how large it is; empty for none.</summary>
    public ImmutableArray<MeasurementErrorPlan> MeasurementError { get; init; } = [];

    /// <summary>The question once more with one thing changed.</summary>
    public ImmutableArray<SensitivityAnalysis> Sensitivity { get; init; } = [];

    /// <summary>An outcome that the exposures cannot change, to reveal confounding; null for none.</summary>
    public NegativeControl? NegativeControl { get; init; }

    /// <summary>How missing values are imputed beside the complete cases; null for not at all.</summary>
    public MissingDataPlan? MissingData { get; init; }

    /// <summary>Knots of the curve of each continuous exposure: 3, 4 or 5.</summary>
    public int ShapeKnots { get; init; } = 4;

    /// <summary>Measures whose groups get estimates of their own, fixed before the data are opened; empty for none.</summary>
    public ImmutableArray<string> Subgroups { get; init; } = [];
}

/// <summary>A column of readings as they were taken, not reduced over raters.</summary>
/// <param name="Table">Table with one row per participant, side, session and rater.</param>
/// <param name="Column">Column of numbers.</param>
public sealed record ReadingColumn(string Table, string Column);

/// <summary>An outcome that the exposures cannot change.</summary>
/// <param name="Outcome">Measure of the outcome.</param>
/// <param name="Reason">Why the exposures cannot change it, a sentence.</param>
public sealed record NegativeControl(string Outcome, string Reason);

/// <summary>Multiple imputation beside the complete cases, with shifts that depart from missing at random.</summary>
/// <param name="Imputations">Number of completed tables.</param>
/// <param name="Shift">Measure whose imputed values are shifted.</param>
/// <param name="By">The shifts, in its unit.</param>
/// <param name="Reason">Why these shifts are plausible, a sentence.</param>
public sealed record MissingDataPlan(int Imputations, string Shift, ImmutableArray<double> By, string Reason);

/// <summary>What one row of an analysis table is.</summary>
public enum RowLevel
{
    /// <summary>One row per participant.</summary>
    Participant,

    /// <summary>One row per side of a participant.</summary>
    Unit,

    /// <summary>One row per participant and visit.</summary>
    Visit,

    /// <summary>One row per side and visit.</summary>
    UnitVisit,

    /// <summary>One row per participant and running number.</summary>
    Sequence,

    /// <summary>One row per participant and week of a diary.</summary>
    Week,
}

/// <summary>An exposure and the step its effect is stated for.</summary>
/// <param name="Measure">The measure.</param>
/// <param name="Per">The step, in the measure's unit (10 states effects per 10 degrees).</param>
/// <param name="Center">Subtracted before fitting, so that other terms refer to this value; 0 for none.</param>
/// <param name="Reference">Reference code of a coded measure; null takes the first.</param>
public sealed record ExposureTerm(string Measure, double Per, double Center, string? Reference);

/// <summary>A term adjusted for, with the reason why.</summary>
/// <param name="Measure">The measure.</param>
/// <param name="Per">The step.</param>
/// <param name="Center">Subtracted before fitting.</param>
/// <param name="Reference">Reference code of a coded measure; null takes the first.</param>
/// <param name="Reason">Why it belongs to the adjustment set, a sentence.</param>
public sealed record AdjustmentTerm(string Measure, double Per, double Center, string? Reference, string Reason);

/// <summary>The product of two terms.</summary>
/// <param name="First">One measure.</param>
/// <param name="Second">The other.</param>
public sealed record InteractionTerm(string First, string Second);

/// <summary>Rows whose measure has one of the codes.</summary>
/// <param name="Measure">The measure.</param>
/// <param name="Codes">Codes kept.</param>
public sealed record RowFilter(string Measure, ImmutableArray<string> Codes);
