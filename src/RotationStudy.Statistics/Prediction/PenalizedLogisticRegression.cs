namespace RotationStudy.Statistics.Prediction;

/// <summary>How coefficients are penalised.</summary>
public enum CoefficientPenalty
{
    /// <summary>Half the squared length of the standardised coefficients: all are drawn towards zero, none becomes zero.</summary>
    Ridge,

    /// <summary>The sum of their absolute values: some become zero.</summary>
    Lasso,
}

/// <summary>A penalised fit at one strength.</summary>
/// <param name="Strength">Strength of the penalty, lambda.</param>
/// <param name="Intercept">Intercept, never penalised.</param>
/// <param name="Values">Coefficients in the unit of the columns, in their order.</param>
/// <param name="LogLikelihood">Log-likelihood without the penalty.</param>
/// <param name="Iterations">Steps made.</param>
public sealed record PenalizedFit(double Strength, double Intercept, IReadOnlyList<double> Values, double LogLikelihood, int Iterations)
{
    /// <summary>Coefficients that are not zero.</summary>
    public int Used => Values.Count(v => v != 0);

    /// <summary>Predicted log odds of some rows.</summary>
    /// <param name="x">Columns of the fit, without intercept.</param>
    public double[] LogOdds(DesignMatrix x)
    {
        double[] eta = new double[x.Rows];
        Solvers.CrossProduct.LinearPredictor(x, [.. Values], [], eta);
        for (int i = 0; i < eta.Length; i++)
            eta[i] += Intercept;
        return eta;
    }

    /// <summary>Predicted risks of some rows.</summary>
    /// <param name="x">Columns of the fit, without intercept.</param>
    public double[] Risks(DesignMatrix x) => [.. LogOdds(x).Select(l => default(Regression.LogisticFamily).Mean(l))];
}

/// <summary>Logistic regression with a ridge or lasso penalty, along a path of strengths.</summary>
/// <remarks>
/// <para><b>Model</b>: maximises l(a, b) / n - lambda P(b), l the logistic log-likelihood of n rows; P is half the sum of (s_j b_j)^2 or the sum of
/// |s_j b_j|, s_j the standard deviation of column j with division by n, so that units do not matter. Coefficients are given back in the columns' units.</para>
/// <para><b>Fitted</b> by Newton steps: each replaces l by its quadratic approximation and solves the penalised problem by cyclic
/// coordinate descent on the p by p cross-products; steps are halved until the objective does not fall. It stops when no standardised coefficient
/// moves by more than 1e-10 in log odds.</para>
/// <para><b>Path</b>: from the strength at which all coefficients are zero (lasso; for ridge a thousand times that, as some libraries do) down
/// to 1/10000 of it, evenly in the log, each fit setting out from the one before.</para>
/// <para>No standard errors are given: penalised estimates are biased on purpose, and an interval around them would mislead.</para>
/// <para><b>Edges</b>: a constant column is refused; separated outcomes are no trouble as long as the strength is above zero.</para>
/// <para><b>Sources</b>: le Cessie S, van Houwelingen JC. Appl Stat 1992;41:191-201; Tibshirani R. J R Stat Soc B 1996;58:267-288; Friedman J, Hastie
/// T, Tibshirani R. J Stat Softw 2010;33(1) (all recalled, not re-read). <b>Checked against</b>: Prediction/penalized.</para>
/// </remarks>
public static class PenalizedLogisticRegression
{
    private const double SmallestShare = 1e-4;
    private const double RidgeFactor = 1000;

    /// <summary>Fits at one strength.</summary>
    /// <param name="x">Columns without intercept, n by p.</param>
    /// <param name="outcome">0 or 1 per row.</param>
    /// <param name="penalty">Which penalty.</param>
    /// <param name="strength">Lambda, above zero.</param>
    /// <exception cref="InvalidInputError">An outcome that is neither 0 nor 1, a constant column, a strength that is not above zero.</exception>
    /// <exception cref="TooFewDataError">No event, or events only.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    public static PenalizedFit Fit(DesignMatrix x, ReadOnlySpan<double> outcome, CoefficientPenalty penalty, double strength)
        => new PenalizedLikelihood(x, outcome).Fit(penalty, Above(strength));

    /// <summary>Fits along strengths, which must fall.</summary>
    /// <param name="x">Columns without intercept, n by p.</param>
    /// <param name="outcome">0 or 1 per row.</param>
    /// <param name="penalty">Which penalty.</param>
    /// <param name="strengths">Strengths, the largest first.</param>
    public static IReadOnlyList<PenalizedFit> Path(DesignMatrix x, ReadOnlySpan<double> outcome, CoefficientPenalty penalty, IReadOnlyList<double> strengths)
    {
        PenalizedLikelihood likelihood = new(x, outcome);
        return [.. strengths.Select(s => likelihood.Fit(penalty, Above(s)))];
    }

    /// <summary>The default strengths for some rows, the largest first.</summary>
    /// <param name="x">Columns without intercept, n by p.</param>
    /// <param name="outcome">0 or 1 per row.</param>
    /// <param name="penalty">Which penalty.</param>
    /// <param name="count">How many.</param>
    public static IReadOnlyList<double> Strengths(DesignMatrix x, ReadOnlySpan<double> outcome, CoefficientPenalty penalty, int count = 40)
    {
        double largest = new PenalizedLikelihood(x, outcome).LargestLasso * (penalty == CoefficientPenalty.Ridge ? RidgeFactor : 1);
        double share = penalty == CoefficientPenalty.Ridge ? SmallestShare / RidgeFactor : SmallestShare;
        return [.. Enumerable.Range(0, count).Select(i => largest * Math.Pow(share, i / Math.Max(1.0, count - 1)))];
    }

    private static double Above(double strength)
        => strength > 0 && double.IsFinite(strength) ? strength : throw new InvalidInputError($"a strength of {strength} is no penalty", "Give a number above zero, or fit without penalty.");
}
