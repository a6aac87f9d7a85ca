using RotationStudy.Statistics;

namespace RotationStudy.CoverageStudies;

/// <summary>One estimator on simulated data of known truth: what was drawn, what is true, what the interval said.</summary>
/// <param name="Name">Estimator, quantity and setting in words, such as "logistic, CR2, knees in persons, 10% events".</param>
/// <param name="Persons">Number of persons per simulated data set.</param>
/// <param name="Truth">The true value of the estimated quantity.</param>
/// <param name="Replicate">Draws one data set from the generator and returns the estimate; a <see cref="StatisticsError"/> is counted as a failure.</param>
internal sealed record CoverageStudy(string Name, int Persons, double Truth, Func<Random, Estimate> Replicate);
