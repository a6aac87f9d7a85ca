using RotationStudy.Statistics.Resampling;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>Marginal risks, their difference and their ratio: what a model says would happen to these very rows under two exposures.</summary>
/// <remarks>
/// <para><b>Quantity</b>: m1 = weighted mean over the rows of the fitted mean with the exposure set to its first value, m2 likewise; m1 - m2 and log(m1/m2). Unlike
/// an odds ratio these do not change by adjusting for more when nothing is confounded. Causal only as far as the model is right and
/// nothing unmeasured confounds. For counts the offset is left out, so that means are rates per unit of exposure time.</para>
/// <para><b>Delta method</b>: variance g'Vg with g the gradient in the coefficients and V the covariance of the fit, cluster-robust where clusters were
/// named; the smallest degrees of freedom of the coefficients serve as reference. The rows' own distribution is taken as given.</para>
/// <para><b>Bootstrap</b>: whole clusters are resampled with <see cref="PersonBootstrap"/>, the model is refitted by case weights and the standardisation is taken over the
/// resample, so that the distribution of the rows varies too; percentile intervals. Same bytes whatever the number of threads.</para>
/// <para><b>Edges</b>: a resample in which the model cannot be fitted (separation, no event) is left out and counted.</para>
/// <para><b>Sources</b>: Lane PW, Nelder JA. Biometrics 1982;38:613-621; Greenland S. Am J Epidemiol 2004;160:301-305; Localio AR et al. J Clin Epidemiol
/// 2007;60:874-882.</para>
/// <para><b>Checked against</b>: Binary/risk_ratio, closed form of a 2 by 2 table in the tests.</para>
/// </remarks>
public static class Standardization
{
    private static readonly string[] Names = ["mean at first", "mean at second", "difference", "log ratio"];

    /// <summary>Contrasts two values of one column; a column that is part of products or curves needs <see cref="Contrast(GeneralizedLinearFit, DesignMatrix, DesignMatrix, double)"/>.</summary>
    /// <exception cref="InvalidInputError">The model has no such column.</exception>
    public static StandardizedContrast Contrast(GeneralizedLinearFit fit, string column, double first = 1, double second = 0, double level = ConfidenceInterval.DefaultLevel)
        => Contrast(fit, WithColumn(fit.Working.Design, column, first), WithColumn(fit.Working.Design, column, second), level);

    /// <summary>Contrasts two designs of the rows of the fit that differ in the exposure and in all that is made from it.</summary>
    /// <exception cref="InvalidInputError">The designs do not have the rows and columns of the fit.</exception>
    public static StandardizedContrast Contrast(GeneralizedLinearFit fit, DesignMatrix first, DesignMatrix second, double level = ConfidenceInterval.DefaultLevel)
    {
        RequireSameShape(fit, first);
        RequireSameShape(fit, second);
        double[] b = fit.Working.Values;
        (double m1, double[] g1) = MeanAndGradient(fit.Link, first, b, fit.Data.Weights);
        (double m2, double[] g2) = MeanAndGradient(fit.Link, second, b, fit.Data.Weights);
        double df = fit.Coefficients.DegreesOfFreedom.Min();
        Estimate Of(int name, double value, Func<int, double> gradient)
        {
            double[] g = [.. Enumerable.Range(0, b.Length).Select(gradient)];
            return Estimate.Wald(Names[name], value, Math.Sqrt(fit.Coefficients.Covariance.Quadratic(g, g)), df, level);
        }

        return new StandardizedContrast(
            Of(0, m1, j => g1[j]),
            Of(1, m2, j => g2[j]),
            Of(2, m1 - m2, j => g1[j] - g2[j]),
            Of(3, Math.Log(m1 / m2), j => (g1[j] / m1) - (g2[j] / m2)));
    }

    /// <summary>The same by resampling whole clusters: components "mean at first", "mean at second", "difference", "log ratio".</summary>
    /// <exception cref="TooFewDataError">Fewer than two clusters.</exception>
    /// <exception cref="NotConvergedError">The model could not be fitted in too many resamples.</exception>
    public static BootstrapResult Bootstrap(GeneralizedLinearFit fit, DesignMatrix first, DesignMatrix second, Clusters clusters, BootstrapOptions options)
    {
        RequireSameShape(fit, first);
        RequireSameShape(fit, second);
        Require.SameLength(clusters.Rows, first.Rows, "clusters");
        return PersonBootstrap.Run(
            Names,
            clusters,
            resample =>
            {
                double[] weights = new double[first.Rows];
                for (int i = 0; i < weights.Length; i++)
                    weights[i] = resample.TimesDrawn[clusters.ClusterOfRow[i]] * (fit.Data.Weights.IsEmpty ? 1 : fit.Data.Weights[i]);
                double[] b = fit.Refit(weights);
                double m1 = MeanAndGradient(fit.Link, first, b, weights).Mean;
                double m2 = MeanAndGradient(fit.Link, second, b, weights).Mean;
                return [m1, m2, m1 - m2, Math.Log(m1 / m2)];
            },
            options);
    }

    /// <summary>The design with one column set to a value in every row.</summary>
    /// <exception cref="InvalidInputError">The design has no such column.</exception>
    public static DesignMatrix WithColumn(DesignMatrix x, string column, double value)
    {
        int at = x.IndexOf(column);
        if (at < 0)
            throw new InvalidInputError($"no column is called '{column}'", $"The design has {string.Join(", ", x.Names)}.", column: column);
        double[] constant = new double[x.Rows];
        Array.Fill(constant, value);
        return DesignMatrix.FromColumns([.. Enumerable.Range(0, x.Columns).Select(j => (x.Names[j], (IReadOnlyList<double>)(j == at ? constant : x.Column(j).ToArray())))]);
    }

    private static void RequireSameShape(GeneralizedLinearFit fit, DesignMatrix x)
    {
        Require.SameLength(x.Rows, fit.Working.Design.Rows, "standardisation design");
        if (!x.Names.SequenceEqual(fit.Working.Design.Names))
            throw new InvalidInputError("the standardisation design has other columns than the fit", $"Give {string.Join(", ", fit.Working.Design.Names)}.");
    }

    private static (double Mean, double[] Gradient) MeanAndGradient(MeanLink link, DesignMatrix x, double[] b, ReadOnlySpan<double> weights)
    {
        double[] slope = new double[x.Rows];
        CrossProduct.LinearPredictor(x, b, [], slope);
        double mean = 0;
        double total = 0;
        for (int i = 0; i < slope.Length; i++)
        {
            double weight = weights.IsEmpty ? 1 : weights[i];
            double eta = slope[i];
            mean += weight * (link == MeanLink.Logit ? default(LogisticFamily).Mean(eta) : Math.Exp(eta));
            slope[i] = weight * (link == MeanLink.Logit ? default(LogisticFamily).MeanSlope(eta) : Math.Exp(eta));
            total += weight;
        }
        double[] gradient = new double[x.Columns];
        CrossProduct.WithVector(x, slope, gradient);
        for (int j = 0; j < gradient.Length; j++)
            gradient[j] /= total;
        return (mean / total, gradient);
    }
}
