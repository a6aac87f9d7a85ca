namespace RotationStudy.Statistics.Mixed;

/// <summary>Groups and columns of new rows for one random term.</summary>
/// <param name="Name">The term's name.</param>
/// <param name="Groups">Per row, the group as numbered by the term's <see cref="Clusters"/>, or null for a group that was not in the data.</param>
/// <param name="Columns">The term's columns in the new rows; null for a random intercept.</param>
public sealed record RandomTermRows(string Name, IReadOnlyList<int?> Groups, DesignMatrix? Columns = null);

/// <summary>The prediction of one new row.</summary>
/// <param name="Mean">Expected outcome, given what the data say of the row's groups.</param>
/// <param name="MeanInterval">Interval of that expectation: fixed and random effects uncertain.</param>
/// <param name="RowInterval">Interval of a new outcome: also the residual.</param>
public sealed record MixedPrediction(double Mean, ConfidenceInterval MeanInterval, ConfidenceInterval RowInterval);
