namespace RotationStudy.Statistics.Regression;

/// <summary>A fitted negative binomial regression.</summary>
public sealed record NegativeBinomialFit
{
    internal NegativeBinomialFit()
    {
    }

    /// <summary>Coefficients, likelihood and diagnostics, as for the Poisson model.</summary>
    public required GeneralizedLinearFit Regression { get; init; }

    /// <summary>Dispersion alpha in Var(y) = m + alpha m^2; zero where the data show no over-dispersion.</summary>
    public required double Alpha { get; init; }

    /// <summary>Standard error of alpha from the joint observed information; NaN on the boundary, where it has none.</summary>
    public required double AlphaStandardError { get; init; }

    /// <summary>Theta = 1 / alpha, the size parameter of some libraries; infinite on the boundary.</summary>
    public double Theta => 1 / Alpha;

    /// <summary>Standard error of theta by the delta method, from the joint observed information; NaN on the boundary.</summary>
    public double ThetaStandardError => AlphaStandardError / (Alpha * Alpha);

    /// <summary>True where the likelihood is highest at alpha = 0: the fit is then the Poisson fit and says so in its warnings.</summary>
    public bool IsOnBoundary => Alpha == 0;

    /// <summary>Covariance of the coefficients with alpha held at its estimate (expected information), the form some libraries print.</summary>
    public required SymmetricMatrix DispersionFixedCovariance { get; init; }

    /// <summary>Log-likelihood of the Poisson model with the same columns.</summary>
    public required double PoissonLogLikelihood { get; init; }

    /// <summary>
    /// Likelihood-ratio test of alpha = 0 against alpha above 0. The value lies on the boundary, so that half of the null distribution sits at zero
    /// (Self and Liang 1987): the p value is half the upper tail of chi-square on one degree of freedom.
    /// </summary>
    public TestResult OverdispersionTest
    {
        get
        {
            double statistic = Math.Max(0, 2 * (Regression.LogLikelihood - PoissonLogLikelihood));
            double p = IsOnBoundary ? 1 : 0.5 * Distributions.ChiSquared.UpperTail(statistic, 1);
            return new TestResult("likelihood-ratio of over-dispersion, boundary corrected", statistic, 1, double.PositiveInfinity, p);
        }
    }
}
