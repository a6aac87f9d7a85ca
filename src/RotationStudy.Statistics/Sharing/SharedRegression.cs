using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Sharing;

/// <summary>One step of Newton's method from sums.</summary>
/// <param name="Next">Coefficients to try next, length p.</param>
/// <param name="Decrement">Squared length of the step in standard errors: under <see cref="SharedRegression.Tolerance"/> the coefficients of the sums are the estimate.</param>
/// <param name="Bread">Inverse information at the coefficients of the sums.</param>
public sealed record SharedStep(IReadOnlyList<double> Next, double Decrement, SymmetricMatrix Bread);

/// <summary>Regression of rows that stay at their sources: sums go to and fro, and the answer is that of the rows together.</summary>
/// <remarks>
/// <para><b>Least squares</b>: X'X and X'y of all sources add up to those of the rows together, so one round gives the estimate. With the products
/// within clusters (<see cref="ClusterProducts"/>) the same round gives the sandwich CR1 as well.</para>
/// <para><b>Logistic and Poisson</b>: score and information at the current coefficients add up; each round is a step of Newton's method from zero,
/// halved by the asker where the log-likelihood fell. The stop rule is that of <see cref="LogisticRegression"/>.</para>
/// <para><b>CR2 with Satterthwaite degrees of freedom</b>: the adjustment of a cluster needs the inverse information of all rows and its own rows alone, and
/// the degrees of freedom need sums over clusters only (<see cref="SatterthwaiteMoments"/>), so one closing round gives both exactly.</para>
/// <para><b>Assumptions</b>: no cluster has rows at two sources; all sources build the same columns. Normal equations are solved, not a
/// factored design: with columns far from zero on very different scales digits are lost that a fit of rows keeps, so centre them.</para>
/// <para><b>Edges</b>: a column that depends on others is named; a separated outcome shows as steps that do not shrink, and no source can see it alone.</para>
/// <para><b>Sources</b>: Wolfson M et al. Int J Epidemiol 2010;39:1372-1382; Wu Y, Jiang X, Kim J, Ohno-Machado L. J Am Med Inform Assoc 2012;19:758-764 (logistic
/// regression from distributed sums); both recalled, not re-read. The closing round for CR2 is derived here.</para>
/// <para><b>Checked against</b>: the fits of the rows together.</para>
/// </remarks>
public static class SharedRegression
{
    /// <summary>A decrement at or under this ends the rounds.</summary>
    public const double Tolerance = 1e-18;

    /// <summary>A log-likelihood that falls by more than this share of itself fell in earnest.</summary>
    public const double RoundingShare = 1e-13;

    /// <summary>The step from the sums of all sources.</summary>
    /// <exception cref="RankDeficientError">A column is a combination of others.</exception>
    public static SharedStep Step(RegressionSums all)
    {
        SmallCholesky factor = SmallCholesky.Factor([.. all.Information], all.Columns.Count, all.Columns);
        double[] score = [.. all.Score];
        double[] step = factor.Solve(score);
        return new SharedStep(
            [.. all.Estimate.Zip(step, (b, s) => b + s)],
            CrossProduct.Dot(step, score),
            new SymmetricMatrix(all.Columns, factor.Inverse()));
    }

    /// <summary>Least squares with the sandwich CR1, from one round of sums with products within clusters.</summary>
    /// <exception cref="InvalidInputError">The sums are of another regression or lack the products.</exception>
    /// <exception cref="TooFewDataError">Fewer than two clusters, or no more rows than columns.</exception>
    public static Coefficients LeastSquares(RegressionSums all)
    {
        if (all.Family != SharedFamily.Linear || all.Products is null)
            throw new InvalidInputError("these sums hold no products within clusters", "Ask the sources for them, or for the closing round.");
        int p = all.Columns.Count;
        if (all.Rows <= p)
            throw new TooFewDataError($"{all.Rows} rows cannot carry {p} coefficients and a residual variance", "Take a smaller adjustment set.");
        SharedStep step = Step(all);
        double[] change = [.. step.Next.Zip(all.Estimate, (b, a) => b - a)];
        return ClusterRobustCovariance.FromMeat([.. step.Next], step.Bread, all.Products.Meat(change), all.Clusters, all.Rows, ClusterVariance.CR1);
    }

    /// <summary>The estimate with the covariance CR2 and Satterthwaite degrees of freedom, from the closing round.</summary>
    /// <param name="estimate">Coefficients reached.</param>
    /// <param name="bread">Inverse information of all sources at these.</param>
    /// <param name="all">The closing sums of all sources together.</param>
    /// <exception cref="TooFewDataError">Fewer than two clusters.</exception>
    public static Coefficients Robust(IReadOnlyList<double> estimate, SymmetricMatrix bread, RobustSums all)
    {
        int p = bread.Size;
        double[] modelBased = new double[p];
        for (int j = 0; j < p; j++)
            modelBased[j] = bread[j, j];
        double[] df = SatterthwaiteMoments.DegreesOfFreedom(new SatterthwaiteSums([.. all.Means], [.. all.Variances], [.. all.Pairs]), modelBased);
        return ClusterRobustCovariance.FromCovariance([.. estimate], new SymmetricMatrix(bread.Names, [.. all.Covariance]), all.Clusters, ClusterVariance.CR2, df);
    }
}
