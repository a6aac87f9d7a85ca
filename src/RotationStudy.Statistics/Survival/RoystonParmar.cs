namespace RotationStudy.Statistics.Survival;

/// <summary>A fitted flexible parametric model on the scale of the log cumulative hazard.</summary>
/// <param name="Coefficients">"(intercept)", "log time", one "spline k" per inner knot, then log hazard ratios.</param>
/// <param name="Knots">Knots on the scale of log time: the smallest, the inner ones, the largest.</param>
/// <param name="LogLikelihood">Log likelihood at the estimate.</param>
/// <param name="Rows">Number of rows, n.</param>
/// <param name="Events">Number of events.</param>
/// <param name="Clusters">Number of clusters; null where rows were taken as independent.</param>
/// <param name="Iterations">Newton steps made.</param>
public sealed record RoystonParmarFit(
    Coefficients Coefficients,
    IReadOnlyList<double> Knots,
    double LogLikelihood,
    int Rows,
    int Events,
    int? Clusters,
    int Iterations)
{
    /// <summary>Log cumulative hazard at a time for given covariates, with its interval.</summary>
    /// <exception cref="InvalidInputError">A time of zero or less, or another number of covariates than columns.</exception>
    public Estimate LogCumulativeHazard(double time, IReadOnlyList<double> covariates, double level = ConfidenceInterval.DefaultLevel)
    {
        if (!(time > 0 && double.IsFinite(time)))
            throw new InvalidInputError($"the time is {time}", "Give a time above zero.");
        Require.SameLength(covariates.Count, Coefficients.Values.Count - Knots.Count, "covariates");
        double[] z = [.. RoystonParmar.Basis(Math.Log(time), Knots), .. covariates];
        Require.Finite(z, "covariates");
        return Coefficients.Combination("log cumulative hazard", z, level);
    }

    /// <summary>Survival at a time for given covariates, with its interval from the log cumulative hazard.</summary>
    /// <exception cref="InvalidInputError">A time of zero or less, or another number of covariates than columns.</exception>
    public (double Survival, ConfidenceInterval Interval) Survival(double time, IReadOnlyList<double> covariates, double level = ConfidenceInterval.DefaultLevel)
    {
        Estimate log = LogCumulativeHazard(time, covariates, level);
        double Of(double eta) => Math.Exp(-Math.Exp(eta));
        return (Of(log.Value), new ConfidenceInterval(Of(log.Interval.Upper), Of(log.Interval.Lower), level));
    }
}

/// <summary>Proportional hazards with a smooth baseline: the flexible parametric model of Royston and Parmar.</summary>
/// <remarks>
/// Model: log cumulative hazard = s(log t) + x'b, s a natural cubic spline, linear beyond the outer knots, which lie at the first and
/// last event; inner knots at equal centiles of the log event times (type-7 quantiles). Without inner knots it is the Weibull
/// model. Spline terms are divided by the cubed range of the knots, so that their size is free of the unit of time.
/// <para>A coefficient of x is a log hazard ratio as in Cox regression; the curve can be read at any time, also between events.</para>
/// <para>Fitted, and the variance reached, as in <see cref="WeibullRegression"/>. A step that would make the hazard negative at an event is
/// halved; between events the spline is not forced to rise.</para>
/// <para><b>Sources</b>: Royston P and Parmar MKB, Stat Med 2002;21:2175-2197.</para>
/// <para><b>Checked against</b>: Survival/parametric (the same likelihood maximised by a general optimiser); Weibull without inner knots.</para>
/// </remarks>
public static class RoystonParmar
{
    /// <summary>Fits the model.</summary>
    /// <param name="times">Follow-up, n rows, on a clock that starts at zero.</param>
    /// <param name="x">Covariates, n rows by p columns, no intercept.</param>
    /// <param name="innerKnots">Number of inner knots, 0 to 9; two or three are usual.</param>
    /// <param name="clusters">Rows that may be dependent; null for independent rows.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree, entry before zero, or a number of knots outside 0 and 9.</exception>
    /// <exception cref="TooFewDataError">Fewer distinct event times than knots, or a single cluster.</exception>
    /// <exception cref="RankDeficientError">A column without information of its own; it is named.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not reached.</exception>
    public static RoystonParmarFit Fit(SurvivalTimes times, DesignMatrix x, int innerKnots = 2, Clusters? clusters = null)
    {
        if (innerKnots is < 0 or > 9)
            throw new InvalidInputError($"{innerKnots} inner knots are asked for", "Use 0 to 9; two or three are usual.");
        LogCumulativeHazardModel.Validate(times, x, clusters);
        double[] knots = Knots(times, innerKnots);
        string[] names = [DesignMatrix.InterceptName, "log time", .. Enumerable.Range(1, innerKnots).Select(k => FormattableString.Invariant($"spline {k}"))];
        LogCumulativeHazardModel model = new(times, x, names, u => Basis(u, knots), u => Derivative(u, knots));
        model.Maximize();
        (SymmetricMatrix covariance, string method) = model.Covariance(clusters);
        return new RoystonParmarFit(
            new Coefficients(model.Theta, covariance, method),
            knots,
            model.LogLikelihood,
            times.Rows,
            times.EventCount,
            clusters?.Count,
            model.Iterations);
    }

    private static double[] Knots(SurvivalTimes times, int inner)
    {
        List<double> events = [];
        for (int i = 0; i < times.Rows; i++)
        {
            if (times.IsEvent[i])
                events.Add(Math.Log(times.Exit[i]));
        }
        events.Sort();
        double[] knots = new double[inner + 2];
        for (int k = 0; k < knots.Length; k++)
        {
            double at = (events.Count - 1) * k / (inner + 1.0);
            int below = Math.Min((int)at, events.Count - 1);
            int above = Math.Min(below + 1, events.Count - 1);
            knots[k] = events[below] + ((at - below) * (events[above] - events[below]));
        }
        for (int k = 1; k < knots.Length; k++)
        {
            if (!(knots[k] > knots[k - 1]))
                throw new TooFewDataError($"{inner} inner knots do not fit between {events.Distinct().Count()} distinct event times", "Use fewer knots.");
        }
        return knots;
    }

    internal static double[] Basis(double u, IReadOnlyList<double> knots) => Terms(u, knots, 1, u, static (v, _) => v * v * v);

    private static double[] Derivative(double u, IReadOnlyList<double> knots) => Terms(u, knots, 0, 1, static (v, range) => 3 * v * v / range);

    // Terms (first, second, v_1, v_2, ...); power maps a positive part, as a share of the range of the knots.
    private static double[] Terms(double u, IReadOnlyList<double> knots, double first, double second, Func<double, double, double> power)
    {
        double[] terms = new double[knots.Count];
        (terms[0], terms[1]) = (first, second);
        double low = knots[0];
        double high = knots[^1];
        double range = high - low;
        double Part(double knot) => u > knot ? power((u - knot) / range, range) : 0;
        for (int k = 1; k < knots.Count - 1; k++)
        {
            double share = (high - knots[k]) / range;
            terms[k + 1] = Part(knots[k]) - (share * Part(low)) - ((1 - share) * Part(high));
        }
        return terms;
    }
}
