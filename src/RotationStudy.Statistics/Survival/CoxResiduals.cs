namespace RotationStudy.Statistics.Survival;

/// <summary>Residuals of a proportional-hazards fit, for judging its form and finding rows that drive it.</summary>
/// <remarks>
/// With delta the event indicator and E the hazard met, exp(eta) times the cumulative baseline hazard while at risk:
/// Cox-Snell E; martingale M = delta - E; deviance sign(M) sqrt(-2 (M + delta log(delta - M))); score: the row's share in the
/// score of each coefficient; dfbeta: score times the inverse information and the row's weight, about the change of b when
/// the row is left out; Schoenfeld: column minus its mean in the risk set, one per event; scaled Schoenfeld: the same times
/// inverse information and number of events, plus b, so that its trend over time is that of the coefficient.
/// <para>Tied events are treated as in the fit: under Efron's method an event meets only the share of the hazard of its turns, and
/// its Schoenfeld residual is taken from the mean over turns. Rows of one unit are summed for a residual of the unit.</para>
/// <para><b>Sources</b>: Schoenfeld D, Biometrika 1982;69:239-241. Therneau TM, Grambsch PM and Fleming TR, Biometrika
/// 1990;77:147-160. Grambsch PM and Therneau TM, Biometrika 1994;81:515-526. Cox DR and Snell EJ, J R Stat Soc B 1968;30:248-275.</para>
/// <para><b>Checked against</b>: Survival/gehan_6mp, Survival/clustered_delayed.</para>
/// </remarks>
public static class CoxResiduals
{
    /// <summary>Cox-Snell residuals: hazard met by each row, length n; a unit-exponential sample, censored, if the model holds.</summary>
    /// <exception cref="InvalidInputError">The fit used exact discrete ties.</exception>
    public static IReadOnlyList<double> CoxSnell(CoxFit fit)
    {
        CoxPartialLikelihood likelihood = fit.RequireLikelihood("residuals");
        double[] residuals = new double[likelihood.Sets.Rows];
        for (int q = 0; q < residuals.Length; q++)
            residuals[likelihood.Sets.Row[q]] = Math.Exp(likelihood.Eta[q]) * likelihood.HazardMet[q];
        return residuals;
    }

    /// <summary>Martingale residuals: event indicator minus hazard met, length n.</summary>
    /// <exception cref="InvalidInputError">The fit used exact discrete ties.</exception>
    public static IReadOnlyList<double> Martingale(CoxFit fit)
    {
        double[] residuals = [.. CoxSnell(fit)];
        for (int i = 0; i < residuals.Length; i++)
            residuals[i] = (fit.Times.IsEvent[i] ? 1 : 0) - residuals[i];
        return residuals;
    }

    /// <summary>Deviance residuals: martingale residuals made more symmetric, length n.</summary>
    /// <exception cref="InvalidInputError">The fit used exact discrete ties.</exception>
    public static IReadOnlyList<double> Deviance(CoxFit fit)
    {
        double[] residuals = [.. Martingale(fit)];
        for (int i = 0; i < residuals.Length; i++)
        {
            double m = residuals[i];
            double log = fit.Times.IsEvent[i] ? Math.Log(1 - m) : 0;
            residuals[i] = Math.Sign(m) * Math.Sqrt(Math.Max(0, -2 * (m + log)));
        }
        return residuals;
    }

    /// <summary>Score residuals without weights, n rows by p columns.</summary>
    /// <exception cref="InvalidInputError">The fit used exact discrete ties.</exception>
    public static DesignMatrix Score(CoxFit fit)
    {
        CoxPartialLikelihood likelihood = fit.RequireLikelihood("residuals");
        double[] weighted = CoxScoreResiduals.Weighted(likelihood);
        int n = likelihood.Sets.Rows;
        return ByRow(likelihood, (q, j) => likelihood.Weight(q) == 0 ? 0 : weighted[(j * n) + q] / likelihood.Weight(q));
    }

    /// <summary>Approximate change of each coefficient when a row is left out, sign reversed: n rows by p columns.</summary>
    /// <exception cref="InvalidInputError">The fit used exact discrete ties.</exception>
    public static DesignMatrix Dfbeta(CoxFit fit)
    {
        CoxPartialLikelihood likelihood = fit.RequireLikelihood("residuals");
        double[] weighted = CoxScoreResiduals.Weighted(likelihood);
        int n = likelihood.Sets.Rows;
        return ByRow(likelihood, (q, j) =>
        {
            double sum = 0;
            for (int k = 0; k < fit.ModelCovariance.Size; k++)
                sum += weighted[(k * n) + q] * fit.ModelCovariance[k, j];
            return sum;
        });
    }

    /// <summary>Dfbeta summed within clusters: one row per cluster, p columns.</summary>
    /// <exception cref="InvalidInputError">Clusters of another number of rows, or a fit with exact discrete ties.</exception>
    public static DesignMatrix DfbetaByCluster(CoxFit fit, Clusters clusters)
    {
        Require.SameLength(clusters.Rows, fit.Rows, "clusters");
        DesignMatrix byRow = Dfbeta(fit);
        (string, IReadOnlyList<double>)[] columns = new (string, IReadOnlyList<double>)[byRow.Columns];
        for (int j = 0; j < byRow.Columns; j++)
        {
            double[] sums = new double[clusters.Count];
            for (int i = 0; i < byRow.Rows; i++)
                sums[clusters.ClusterOfRow[i]] += byRow[i, j];
            columns[j] = (byRow.Names[j], sums);
        }
        return DesignMatrix.FromColumns(columns);
    }

    /// <summary>Schoenfeld residuals, one row per event ordered by stratum and time.</summary>
    /// <exception cref="InvalidInputError">The fit used exact discrete ties.</exception>
    public static EventResiduals Schoenfeld(CoxFit fit)
    {
        CoxPartialLikelihood likelihood = fit.RequireLikelihood("residuals");
        RiskSets sets = likelihood.Sets;
        int p = fit.ModelCovariance.Size;
        List<int> rows = [];
        List<double> times = [];
        List<double>[] columns = [.. Enumerable.Range(0, p).Select(_ => new List<double>())];
        Span<double> turn = stackalloc double[p];
        Span<double> mean = stackalloc double[p];
        for (int s = 0; s < sets.Strata; s++)
        {
            for (int m = sets.MomentStart[s + 1] - 2; m >= sets.MomentStart[s]; m--)
            {
                int d = sets.EventCount[m];
                mean.Clear();
                for (int k = 0; k < d; k++)
                {
                    likelihood.RiskSetMean(m, k, turn);
                    for (int j = 0; j < p; j++)
                        mean[j] += turn[j] / d;
                }
                for (int q = sets.AtRiskEnd[m] - d; q < sets.AtRiskEnd[m]; q++)
                {
                    rows.Add(sets.Row[q]);
                    times.Add(sets.Time[m]);
                    for (int j = 0; j < p; j++)
                        columns[j].Add(likelihood.Columns.Design[q, j] - mean[j]);
                }
            }
        }
        return new EventResiduals(times, rows, DesignMatrix.FromColumns([.. columns.Select((c, j) => (likelihood.Columns.Names[j], (IReadOnlyList<double>)c))]));
    }

    /// <summary>Scaled Schoenfeld residuals with the coefficient added, one row per event ordered by stratum and time.</summary>
    /// <exception cref="InvalidInputError">The fit used exact discrete ties.</exception>
    public static EventResiduals ScaledSchoenfeld(CoxFit fit)
    {
        EventResiduals plain = Schoenfeld(fit);
        int p = fit.ModelCovariance.Size;
        (string, IReadOnlyList<double>)[] columns = new (string, IReadOnlyList<double>)[p];
        for (int j = 0; j < p; j++)
        {
            double[] scaled = new double[plain.Times.Count];
            for (int e = 0; e < scaled.Length; e++)
            {
                double sum = 0;
                for (int k = 0; k < p; k++)
                    sum += plain.Values[e, k] * fit.ModelCovariance[k, j];
                scaled[e] = (fit.Events * sum) + fit.Coefficients.Values[j];
            }
            columns[j] = (plain.Values.Names[j], scaled);
        }
        return plain with { Values = DesignMatrix.FromColumns(columns) };
    }

    private static DesignMatrix ByRow(CoxPartialLikelihood likelihood, Func<int, int, double> value)
    {
        (string, IReadOnlyList<double>)[] columns = new (string, IReadOnlyList<double>)[likelihood.Columns.Names.Count];
        for (int j = 0; j < columns.Length; j++)
        {
            double[] column = new double[likelihood.Sets.Rows];
            for (int q = 0; q < column.Length; q++)
                column[likelihood.Sets.Row[q]] = value(q, j);
            columns[j] = (likelihood.Columns.Names[j], column);
        }
        return DesignMatrix.FromColumns(columns);
    }
}

/// <summary>Residuals that exist at events only.</summary>
/// <param name="Times">Time of each event, earliest first within a stratum.</param>
/// <param name="Rows">Row of each event in the caller's table.</param>
/// <param name="Values">One row per event by p columns.</param>
public sealed record EventResiduals(IReadOnlyList<double> Times, IReadOnlyList<int> Rows, DesignMatrix Values);
