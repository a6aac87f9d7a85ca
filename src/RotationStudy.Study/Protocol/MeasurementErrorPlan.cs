namespace RotationStudy.Study.Protocol;

/// <summary>That a term of the model is measured with error, and how large the error is: the question is answered again with coefficients corrected for it.</summary>
/// <param name="Measure">Exposure or adjustment term with error.</param>
/// <param name="From">Question of kind agreement whose readings tell the error; null where it is given as a number.</param>
/// <param name="Scope">Which error of those readings counts.</param>
/// <param name="ErrorSd">Standard deviation of the error of one value, in the measure's unit, from elsewhere; null where it comes from a question.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of that standard deviation; null where it comes from a question.</param>
/// <param name="ErrorSource">Where that standard deviation comes from; null where it comes from a question.</param>
/// <param name="Reason">Why this is the error that counts, a sentence.</param>
public sealed record MeasurementErrorPlan(
    string Measure, string? From, ErrorScope Scope, double? ErrorSd, double? DegreesOfFreedom, string? ErrorSource, string Reason);

/// <summary>Which error of repeated readings counts.</summary>
public enum ErrorScope
{
    /// <summary>Readings of one side by different raters at the first session: systematic differences between raters count, as they do where several raters read for the study.</summary>
    BetweenRaters,

    /// <summary>Readings of one side by the same rater at several sessions: for a study that one rater reads, whose constant error shifts all values alike.</summary>
    WithinRater,
}
