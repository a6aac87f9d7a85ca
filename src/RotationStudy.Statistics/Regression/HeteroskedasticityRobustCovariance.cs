using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>Covariance of regression coefficients when rows are independent but their variances differ.</summary>
/// <remarks>
/// <para><b>Model</b>: V = M [sum over rows of a_i x_i x_i' r_i^2] M with M = (X'WX)^-1, score residual r_i and a
/// factor a_i from the leverage h_i: 1 (HC0), n/(n-k) (HC1), 1/(1-h_i) (HC2), 1/(1-h_i)^2 (HC3). A row of leverage one
/// has residual zero and adds nothing.</para>
/// <para>Rows that belong together are not independent: use <see cref="ClusterRobustCovariance"/> for them.</para>
/// <para>Degrees of freedom: n - k for linear regression, normal reference for other fits.</para>
/// <para><b>Sources</b>: White H. Econometrica 1980;48:817-838; MacKinnon JG, White H. J Econometrics 1985;29:305-325.</para>
/// <para><b>Checked against</b>: Linear/public_schools_hc, Peers/cohort_300.</para>
/// </remarks>
internal static class HeteroskedasticityRobustCovariance
{
    private const double FullLeverage = 1e-8;

    /// <summary>The estimates of a fit with heteroskedasticity-robust covariance.</summary>
    internal static Coefficients Estimate(WorkingLeastSquares fit, HeteroskedasticityVariance variance)
    {
        int n = fit.Design.Rows;
        int p = fit.Design.Columns;
        double[] squares = [.. fit.WhitenedResiduals()];
        bool usesLeverage = variance is HeteroskedasticityVariance.HC2 or HeteroskedasticityVariance.HC3;
        double[] leverage = usesLeverage ? fit.Leverage() : [];
        for (int i = 0; i < n; i++)
        {
            squares[i] *= squares[i];
            if (usesLeverage)
                squares[i] = Adjusted(squares[i], 1 - leverage[i], variance);
        }
        double[] meat = new double[p * p];
        CrossProduct.Weighted(fit.Whitened, n, p, squares, meat);
        double rows = fit.RowsUsed;
        double factor = variance == HeteroskedasticityVariance.HC1 ? rows / (rows - p) : 1;
        double[] df = new double[p];
        Array.Fill(df, fit.ResidualDegreesOfFreedom);
        return new Coefficients(fit.Values, fit.FromWhitened(meat, factor), $"heteroskedasticity-robust, {variance}", df);
    }

    private static double Adjusted(double square, double left, HeteroskedasticityVariance variance)
        => left < FullLeverage ? 0 : variance == HeteroskedasticityVariance.HC2 ? square / left : square / (left * left);
}
