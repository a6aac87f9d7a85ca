namespace RotationStudy.Statistics.Regression;

/// <summary>Sums over clusters from which Satterthwaite degrees of freedom of contrasts follow; sums over other clusters may be added to them.</summary>
/// <param name="Mean">Expectation of each variance estimate under the working model.</param>
/// <param name="Variance">Part of its variance that comes from single clusters.</param>
/// <param name="Products">Per contrast a p by p sum of outer products, from which the part of pairs of clusters follows.</param>
internal sealed record SatterthwaiteSums(double[] Mean, double[] Variance, double[] Products);
