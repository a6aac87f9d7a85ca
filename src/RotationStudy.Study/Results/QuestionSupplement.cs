using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>What stands beside the planned answer of a question: further analyses, checks and what it would take to change the conclusion.</summary>
/// <param name="Others">Sensitivity analyses and the negative-control outcome, in the order of the plan.</param>
/// <param name="Findings">Checks of the model that run unasked.</param>
/// <param name="Influence">Which persons move each exposure's estimate most.</param>
/// <param name="Shapes">The curve of each continuous exposure.</param>
/// <param name="MissingData">Complete cases beside multiple imputation; null where the plan asks for none.</param>
/// <param name="EValues">How strong unmeasured confounding would have to be; for ratios only.</param>
public sealed record QuestionSupplement(
    ImmutableArray<SupplementaryResult> Others,
    ImmutableArray<DiagnosticFinding> Findings,
    ImmutableArray<InfluenceByPerson> Influence,
    ImmutableArray<ShapeCurve> Shapes,
    MissingDataComparison? MissingData,
    ImmutableArray<EValueFacts> EValues)
{
    /// <summary>Nothing beside the answer.</summary>
    public static QuestionSupplement None { get; } = new([], [], [], [], null, []);

    /// <summary>The estimates corrected for error of measurement; null where the plan declares none.</summary>
    public MeasurementErrorComparison? MeasurementError { get; init; }
}

/// <summary>The question answered once more with one thing changed, as the plan says.</summary>
/// <param name="Name">Name.</param>
/// <param name="Role">sensitivity or negative_control.</param>
/// <param name="WhatDiffers">What differs from the planned analysis, in words.</param>
/// <param name="Reason">Why the plan asks for it.</param>
/// <param name="Answer">The exposures' estimates in a sentence, or why there are none.</param>
/// <param name="Estimates">Estimates of the exposures; empty where there are none.</param>
/// <param name="Counts">What it rests on.</param>
/// <param name="Warnings">Sentences that must stand beside it.</param>
public sealed record SupplementaryResult(
    string Name, string Role, string WhatDiffers, string Reason, string Answer,
    ImmutableArray<EstimateRow> Estimates, AnalysisCounts Counts, ImmutableArray<string> Warnings);

/// <summary>A check of the model.</summary>
/// <param name="Check">What was checked.</param>
/// <param name="Status">Whether it held.</param>
/// <param name="Words">What was found, with the number, and what to make of it.</param>
/// <param name="Alternative">Name of the planned analysis to read beside it when it did not hold; null for none.</param>
public sealed record DiagnosticFinding(string Check, FindingStatus Status, string Words, string? Alternative);

/// <summary>What a check found.</summary>
public enum FindingStatus
{
    /// <summary>Nothing speaks against the model.</summary>
    Held,

    /// <summary>Something speaks against it.</summary>
    Doubtful,

    /// <summary>These data cannot tell.</summary>
    NotCheckable,
}

/// <summary>How far an estimate moves when one person is left out, found by fitting the model anew without each person.</summary>
/// <param name="Term">Term in the model.</param>
/// <param name="Label">What the estimate is of.</param>
/// <param name="Persons">The persons who move it most, first the one who moves it furthest.</param>
/// <param name="NotFitted">Number of persons without whom the model could not be fitted.</param>
public sealed record InfluenceByPerson(string Term, string Label, ImmutableArray<PersonShift> Persons, int NotFitted);

/// <summary>An estimate without one person.</summary>
/// <param name="Participant">Identifier.</param>
/// <param name="Without">Estimate without the person, on the scale of the result.</param>
/// <param name="ShiftInStandardErrors">Change on the scale of the model, in standard errors of the estimate from all persons; positive where leaving the person out raises it.</param>
public sealed record PersonShift(string Participant, double Without, double ShiftInStandardErrors);

/// <summary>The association of a continuous exposure as a restricted cubic spline.</summary>
/// <param name="Exposure">Measure id.</param>
/// <param name="Label">Label with unit.</param>
/// <param name="Scale">What the curve is, such as "rate ratio"; against <paramref name="Reference"/>.</param>
/// <param name="Unit">Unit of a difference; null for ratios.</param>
/// <param name="NoEffect">Value of no association: 0 or 1.</param>
/// <param name="Reference">Value of the exposure against which the curve is drawn, in its unit.</param>
/// <param name="Knots">Knots, in the exposure's unit.</param>
/// <param name="X">Grid from the 2nd to the 98th per cent of the values, in the exposure's unit.</param>
/// <param name="Estimate">Curve on the scale named.</param>
/// <param name="Lower">Lower end of the pointwise 95% band.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="NonLinearityPValue">p value of the test that the curve is a straight line on the scale of the model.</param>
/// <param name="Words">The test in words.</param>
public sealed record ShapeCurve(
    string Exposure, string Label, string Scale, string? Unit, double NoEffect, double Reference,
    ImmutableArray<double> Knots, ImmutableArray<double> X,
    ImmutableArray<double> Estimate, ImmutableArray<double> Lower, ImmutableArray<double> Upper,
    double NonLinearityPValue, string Words)
{
    /// <summary>Values of the exposure in the fit, one per row, in the exposure's unit.</summary>
    public ImmutableArray<double> Values { get; init; } = [];
}

/// <summary>Answers under different assumptions about what is missing, side by side.</summary>
/// <param name="Rows">Rows of the imputed tables.</param>
/// <param name="IncompleteRows">Rows of these that lack a value.</param>
/// <param name="Method">How values were imputed, in words.</param>
/// <param name="Approaches">Complete cases first, then imputation as if missing at random, then the shifts.</param>
/// <param name="Sentence">What the comparison says.</param>
public sealed record MissingDataComparison(
    int Rows, int IncompleteRows, string Method, ImmutableArray<MissingDataApproach> Approaches, string Sentence)
{
    /// <summary>Participants behind the imputed tables.</summary>
    public int Participants { get; init; }
}

/// <summary>The exposures' estimates under one assumption.</summary>
/// <param name="Name">Name.</param>
/// <param name="Shift">Shift of imputed values of the column the plan names; null for complete cases.</param>
/// <param name="Estimates">Estimates of the exposures.</param>
/// <param name="MissingInformation">Fraction of missing information of each; empty for complete cases.</param>
public sealed record MissingDataApproach(
    string Name, double? Shift, ImmutableArray<EstimateRow> Estimates, ImmutableArray<double> MissingInformation);

/// <summary>The smallest association of an unmeasured confounder with exposure and outcome that could explain an estimate away.</summary>
/// <param name="Term">Term in the model.</param>
/// <param name="Label">What the estimate is of.</param>
/// <param name="Estimate">E-value of the estimate.</param>
/// <param name="Interval">E-value of the interval's end nearer to no association; 1 where the interval holds it.</param>
/// <param name="Words">Both in words, with the scale they were worked out on.</param>
public sealed record EValueFacts(string Term, string Label, double Estimate, double Interval, string Words);
