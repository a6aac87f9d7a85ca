namespace RotationStudy.Statistics.Regression;

/// <summary>Whether one odds ratio serves all cuts of an ordered outcome.</summary>
/// <param name="Overall">All columns at once, on (number of columns) (number of cuts - 1) degrees of freedom.</param>
/// <param name="ByColumn">Each column by itself, on (number of cuts - 1) degrees of freedom, in the order of the design.</param>
/// <param name="Cuts">Names of the cuts, "above" a category.</param>
/// <param name="ByCut">The binary logistic fit of each cut: how the odds ratio moves along the scale.</param>
public sealed record ProportionalityResult(
    TestResult Overall, IReadOnlyList<TestResult> ByColumn, IReadOnlyList<string> Cuts, IReadOnlyList<GeneralizedLinearFit> ByCut);
