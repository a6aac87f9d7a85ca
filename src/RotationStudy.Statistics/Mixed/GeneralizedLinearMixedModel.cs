using MathNet.Numerics;
using RotationStudy.Statistics.Clustered;

namespace RotationStudy.Statistics.Mixed;

/// <summary>Kind of outcome of a generalised linear mixed model, with its canonical link.</summary>
public enum MixedOutcome
{
    /// <summary>Zero or one: logit link.</summary>
    Binary,

    /// <summary>A count: log link; log follow-up as offset.</summary>
    Count,
}

/// <summary>Choices of a generalised linear mixed model.</summary>
public sealed record GeneralizedLinearMixedModelOptions
{
    /// <summary>Quadrature points per group, 1 to 100; 1 is the Laplace approximation. Ten are enough for groups of a few rows.</summary>
    public int QuadraturePoints { get; init; } = 10;
}

/// <summary>Logistic and Poisson regression with a random intercept: binary outcomes and counts whose rows share persons.</summary>
/// <remarks>
/// <para>Model: g(E y | u) = X b + offset + s u, u ~ N(0, 1) per group; logit link for binary outcomes, log link for counts. A
/// coefficient is a log odds ratio (log rate ratio) within one group, hence larger than that of a marginal model.</para>
/// <para>Assumes normal effects, independent of the columns, and rows independent given the effect. One grouping term only:
/// nested or crossed effects of binary outcomes are not offered.</para>
/// <para>Fit: maximum likelihood, each group's integral by adaptive Gauss-Hermite quadrature around its mode; exact gradient of
/// the approximated value, quasi-Newton then Newton steps, until a Newton step promises less than 1e-13 of
/// deviance. Time is linear in rows times points.</para>
/// <para>Variance: inverse of the observed information of all parameters together, s included; normal reference.</para>
/// <para>At the edges: s = 0 is reported as <see cref="GeneralizedLinearMixedModelFit.IsOnBoundary"/>, the rest being ordinary regression; a
/// binary outcome that the columns split perfectly is a <see cref="SeparationError"/>; groups of one row all round leave s to the
/// shape of the link and are refused.</para>
/// <para>Libraries differ in the constant of the log-likelihood of counts: here it is that of the full Poisson probabilities.</para>
/// <para><b>Sources.</b> Pinheiro JC, Bates DM (1995), J Comput Graph Stat 4:12-35. Liu Q, Pierce DA (1994), Biometrika 81:624-629.
/// Breslow NE, Clayton DG (1993), J Am Stat Assoc 88:9-25.</para>
/// <para><b>Checked against</b> Clustered/ohio_wheeze, Counts/epilepsy, Peers/cohort_300.</para>
/// </remarks>
public static class GeneralizedLinearMixedModel
{
    /// <summary>Fits the model.</summary>
    /// <param name="x">Fixed columns, n by p, with the intercept if one is wanted.</param>
    /// <param name="outcome">Outcome, n values: 0 or 1, or whole counts.</param>
    /// <param name="groups">The rows that share a random intercept.</param>
    /// <param name="kind">Binary or count.</param>
    /// <param name="offset">Added to the linear predictor, n values; null for none.</param>
    /// <param name="options">Choices; null for the defaults.</param>
    /// <exception cref="InvalidInputError">Lengths that differ, NaN, an outcome of another kind, points out of range.</exception>
    /// <exception cref="TooFewDataError">No more groups than coefficients, or every group a single row.</exception>
    /// <exception cref="RankDeficientError">A column depends on others.</exception>
    /// <exception cref="SeparationError">A binary outcome that the columns split perfectly.</exception>
    /// <exception cref="NotConvergedError">No maximum of the likelihood was reached.</exception>
    public static GeneralizedLinearMixedModelFit Fit(
        DesignMatrix x,
        IReadOnlyList<double> outcome,
        Clusters groups,
        MixedOutcome kind,
        IReadOnlyList<double>? offset = null,
        GeneralizedLinearMixedModelOptions? options = null)
    {
        options ??= new GeneralizedLinearMixedModelOptions();
        double[] y = [.. outcome];
        double[] shift = offset is null ? [] : [.. offset];
        CheckInputs(x, y, groups, kind, options);
        OrthonormalBasis basis = OrthonormalBasis.Of(x);
        GeneralizedEstimatingEquationsFit ordinary = GeneralizedEstimatingEquations.Fit(
            x, y, groups, kind == MixedOutcome.Binary ? MarginalFamily.Binomial : MarginalFamily.Poisson, offset,
            new GeneralizedEstimatingEquationsOptions { Correlation = WorkingCorrelation.Independence, Correction = SandwichCorrection.None });
        QuadratureLikelihood likelihood = new(basis, y, shift, groups, kind, options.QuadraturePoints);
        SmoothMinimizer.Minimum found = SmoothMinimizer.Minimize(
            likelihood.Deviance, Start(basis, ordinary.Coefficients.Values), "the generalised linear mixed model", closeness: 1e-5);
        return new GeneralizedLinearMixedModelFit(x, basis, likelihood, found, groups, kind, options, OutcomeConstant(y, kind));
    }

    private static void CheckInputs(DesignMatrix x, double[] y, Clusters groups, MixedOutcome kind, GeneralizedLinearMixedModelOptions options)
    {
        if (options.QuadraturePoints is < 1 or > GaussHermiteRule.MostPoints)
            throw new InvalidInputError($"{options.QuadraturePoints} quadrature points were asked for", $"Give 1 to {GaussHermiteRule.MostPoints}.");
        Require.SameLength(groups.Rows, x.Rows, "groups");
        if (groups.LargestSize < 2)
            throw new TooFewDataError("every group is a single row, so a random intercept cannot be told from chance", "Use ordinary regression.");
        Require.SameLength(y.Length, x.Rows, "outcome");
        for (int i = 0; i < y.Length; i++)
        {
            if (kind == MixedOutcome.Count && y[i] != Math.Floor(y[i]))
                throw new InvalidInputError($"the outcome holds {y[i]} in row {i}", "A count is a whole number.", i, "outcome");
        }
    }

    // Coefficients of ordinary regression, in the basis times the root of n, and an effect of one.
    private static double[] Start(OrthonormalBasis basis, IReadOnlyList<double> coefficients)
    {
        double[] start = new double[basis.Columns + 1];
        basis.ToBasis([.. coefficients]).CopyTo(start, 0);
        for (int j = 0; j < basis.Columns; j++)
            start[j] /= Math.Sqrt(basis.Rows);
        start[^1] = 1;
        return start;
    }

    private static double OutcomeConstant(double[] y, MixedOutcome kind)
    {
        double sum = 0;
        for (int i = 0; kind == MixedOutcome.Count && i < y.Length; i++)
            sum -= SpecialFunctions.GammaLn(y[i] + 1);
        return sum;
    }
}
