namespace RotationStudy.Statistics.Survival;

/// <summary>A fitted Weibull model in its two equivalent forms.</summary>
/// <param name="Hazard">Proportional hazards: "(intercept)" and "log time" (the shape), then log hazard ratios.</param>
/// <param name="Accelerated">Accelerated failure time: "(intercept)", then log time ratios, then "log scale", minus the log of the shape.</param>
/// <param name="Shape">Shape: above one the hazard rises over time, below one it falls.</param>
/// <param name="LogLikelihood">Log likelihood at the estimate.</param>
/// <param name="Rows">Number of rows, n.</param>
/// <param name="Events">Number of events.</param>
/// <param name="Clusters">Number of clusters; null where rows were taken as independent.</param>
/// <param name="Iterations">Newton steps made.</param>
public sealed record WeibullFit(
    Coefficients Hazard,
    Coefficients Accelerated,
    double Shape,
    double LogLikelihood,
    int Rows,
    int Events,
    int? Clusters,
    int Iterations);

/// <summary>How do covariates change the hazard, or stretch time, when the hazard is a power of time? Weibull regression.</summary>
/// <remarks>
/// Model: cumulative hazard exp(a + x'b) t^k. In the accelerated form log t = m + x'c + s e with e of the smallest-extreme-value
/// distribution, s = 1/k, m = -a/k, c = -b/k: exp(c) multiplies times, exp(b) hazards.
/// <para>Fitted by Newton from the exponential model until the decrement is below 1e-14; the likelihood is concave without late
/// entry. Variance: inverse observed information, or with clusters the sandwich of their summed scores; the accelerated
/// form by the delta method. Late entry enters through the hazard before it.</para>
/// <para>Edges: no events, one cluster and dependent columns are typed errors; a coefficient that runs off is NotConvergedError.</para>
/// <para><b>Sources</b>: Kalbfleisch JD and Prentice RL, The Statistical Analysis of Failure Time Data, 2nd ed. 2002, ch. 3.</para>
/// <para><b>Checked against</b>: Survival/parametric; the exponential case in closed form.</para>
/// </remarks>
public static class WeibullRegression
{
    /// <summary>Fits the model.</summary>
    /// <param name="times">Follow-up, n rows, on a clock that starts at zero.</param>
    /// <param name="x">Covariates, n rows by p columns, no intercept.</param>
    /// <param name="clusters">Rows that may be dependent; null for independent rows.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree, or entry before zero.</exception>
    /// <exception cref="TooFewDataError">No event, or a single cluster.</exception>
    /// <exception cref="RankDeficientError">A column without information of its own; it is named.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not reached.</exception>
    public static WeibullFit Fit(SurvivalTimes times, DesignMatrix x, Clusters? clusters = null)
    {
        LogCumulativeHazardModel.Validate(times, x, clusters);
        LogCumulativeHazardModel model = new(times, x, [DesignMatrix.InterceptName, "log time"], static u => [1, u], static _ => [0, 1]);
        model.Maximize();
        (SymmetricMatrix covariance, string method) = model.Covariance(clusters);
        return new WeibullFit(
            new Coefficients(model.Theta, covariance, method),
            Accelerated(model.Theta, covariance, x.Names, method),
            model.Theta[1],
            model.LogLikelihood,
            times.Rows,
            times.EventCount,
            clusters?.Count,
            model.Iterations);
    }

    // theta = (a, k, b) to (-a/k, -b/k, -log k), with the Jacobian for the delta method.
    private static Coefficients Accelerated(double[] theta, SymmetricMatrix covariance, IReadOnlyList<string> columns, string method)
    {
        int q = theta.Length;
        double k = theta[1];
        double[] values = new double[q];
        double[] jacobian = new double[q * q];
        for (int to = 0; to < q - 1; to++)
        {
            int from = to == 0 ? 0 : to + 1;
            values[to] = -theta[from] / k;
            jacobian[(to * q) + from] = -1 / k;
            jacobian[(to * q) + 1] = theta[from] / (k * k);
        }
        values[q - 1] = -Math.Log(k);
        jacobian[((q - 1) * q) + 1] = -1 / k;
        double[] full = new double[q * q];
        for (int i = 0; i < q; i++)
        {
            for (int j = 0; j < q; j++)
                full[(i * q) + j] = covariance.Quadratic(jacobian.AsSpan(i * q, q), jacobian.AsSpan(j * q, q));
        }
        return new Coefficients(values, new SymmetricMatrix([DesignMatrix.InterceptName, .. columns, "log scale"], full), method + ", delta method");
    }
}
