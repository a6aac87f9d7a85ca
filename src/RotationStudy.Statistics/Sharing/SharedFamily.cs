using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Sharing;

/// <summary>The regressions that can be fitted from sums of several sources.</summary>
public enum SharedFamily
{
    /// <summary>Least squares; one round gives the estimate.</summary>
    Linear,

    /// <summary>Binary outcome, logit link; rounds of Newton's method.</summary>
    Logistic,

    /// <summary>Count, log link; rounds of Newton's method.</summary>
    Poisson,
}

/// <summary>Score residuals and working weights of the rows of one source.</summary>
internal sealed class RowDerivatives
{
    private RowDerivatives(int rows)
    {
        Score = new double[rows];
        Weight = new double[rows];
    }

    internal double[] Score { get; }

    internal double[] Weight { get; }

    internal double LogLikelihood { get; private set; }

    internal static RowDerivatives At(SharedFamily family, ReadOnlySpan<double> outcome, ReadOnlySpan<double> linearPredictor)
    {
        RowDerivatives rows = new(outcome.Length);
        switch (family)
        {
            case SharedFamily.Linear:
                rows.LeastSquares(outcome, linearPredictor);
                break;
            case SharedFamily.Logistic:
                rows.Fill(default(LogisticFamily), outcome, linearPredictor);
                break;
            case SharedFamily.Poisson:
                rows.Fill(default(PoissonFamily), outcome, linearPredictor);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(family));
        }
        return rows;
    }

    private void Fill<TFamily>(TFamily family, ReadOnlySpan<double> outcome, ReadOnlySpan<double> linearPredictor)
        where TFamily : struct, IGeneralizedLinearFamily
    {
        for (int i = 0; i < outcome.Length; i++)
            LogLikelihood += family.LogLikelihood(outcome[i], linearPredictor[i], out Score[i], out Weight[i]);
    }

    private void LeastSquares(ReadOnlySpan<double> outcome, ReadOnlySpan<double> linearPredictor)
    {
        for (int i = 0; i < outcome.Length; i++)
        {
            Score[i] = outcome[i] - linearPredictor[i];
            Weight[i] = 1;
            LogLikelihood -= 0.5 * Score[i] * Score[i];
        }
    }
}
