namespace RotationStudy.Statistics.Mixed;

/// <summary>The predicted effect of one group (best linear unbiased prediction), in units of the outcome over the column's.</summary>
/// <param name="Group">The group, as numbered by the term's <see cref="Clusters"/>.</param>
/// <param name="Column">The column that the effect multiplies.</param>
/// <param name="Value">Predicted effect, shrunken towards zero.</param>
/// <param name="ConditionalStandardDeviation">Standard deviation of the effect given the outcomes, fixed effects and variances taken as known.</param>
public sealed record RandomEffect(int Group, string Column, double Value, double ConditionalStandardDeviation);
