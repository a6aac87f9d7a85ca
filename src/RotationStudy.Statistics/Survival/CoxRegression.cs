using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Survival;

/// <summary>Choices for a proportional-hazards fit.</summary>
public sealed record CoxOptions
{
    /// <summary>How tied events are treated. Efron's is the default: as cheap as Breslow's and nearly unbiased when days tie.</summary>
    public TiesMethod Ties { get; init; } = TiesMethod.Efron;

    /// <summary>Which cluster-robust covariance is reported where clusters are given. The corrected one holds its level with few clusters.</summary>
    public CoxClusterVariance ClusterVariance { get; init; } = CoxClusterVariance.LeaveOneOut;

    /// <summary>Newton steps after which the fit is given up. Five or six are usual; 30 leaves room for hard cases.</summary>
    public int MaximumIterations { get; init; } = 30;

    /// <summary>The defaults.</summary>
    public static CoxOptions Default { get; } = new();
}

/// <summary>How do covariates multiply the hazard of the event? Cox's proportional-hazards regression.</summary>
/// <remarks>
/// Model: the hazard of row i in stratum s at time t is h_s(t) exp(x_i'b + offset_i), x_i of length p without intercept, h_s
/// free. A coefficient is the log hazard ratio for one unit of its column, the other columns held. Covariates that change
/// with time enter as several rows with adjoining intervals.
/// <para>Assumptions: hazards proportional within strata; censoring and late entry tell nothing about the event given x. For a
/// competing event that censors, coefficients are cause-specific. With clusters b is marginal: it compares rows at random,
/// not within a cluster.</para>
/// <para>Fitted by Newton's method on columns centred within strata from b = 0, a step being halved while it lowers the
/// likelihood, until the Newton decrement (the expected gain, in squared standard errors) is below 1e-12; then one more
/// step is taken. One step costs O(n p^2) whatever the entry times; sorting O(n log n).</para>
/// <para>Variance: inverse information, or with clusters the sandwich of Lin and Wei (1989), the score residuals being summed
/// within clusters and, by default, corrected for few clusters (see <see cref="CoxClusterVariance"/>). Score residuals are those of the ties method used: libraries that
/// keep Breslow's residuals beside Efron's coefficients differ in the fourth digit of the standard error.</para>
/// <para>Edges: a column that is constant within strata or a combination of others is named (RankDeficientError); a
/// monotone likelihood, where a coefficient runs off to infinity, is detected by a Newton step that stays long while the
/// information along it has vanished (SeparationError); no events, or one cluster, is TooFewDataError. Weights: the events
/// of one time share their mean weight under Efron, so that a row of weight 2 equals two rows under Breslow only.</para>
/// <para><b>Sources</b>: Cox DR, J R Stat Soc B 1972;34:187-220. Efron B, J Am Stat Assoc 1977;72:557-565. Breslow N, Biometrics
/// 1974;30:89-99. Andersen PK and Gill RD, Ann Stat 1982;10:1100-1120 (counting processes). Lin DY and Wei LJ, J Am Stat
/// Assoc 1989;84:1074-1078 (sandwich). Lee EW, Wei LJ and Amato DA, in Survival Analysis: State of the Art, 1992, 237-247
/// (clusters). Mancl LA and DeRouen TA, Biometrics 2001;57:126-134, and Fay MP and Graubard BI, ibid. 57:1198-1206 (few clusters). Therneau TM and Grambsch PM, Modeling Survival Data, 2000.</para>
/// <para><b>Checked against</b>: Survival/gehan_6mp, Survival/veteran, Survival/lung, Survival/ovarian, Recurrent/bladder,
/// Peers/tight_300; six rows by hand.</para>
/// </remarks>
public static class CoxRegression
{
    private const double DecrementTolerance = 1e-12;

    // Information along the step, as a share of that at zero, below which the data no longer say where the maximum lies.
    private const double LostInformation = 1e-4;

    // A column that keeps less than this share of its crude information is constant wherever an event happens.
    private const double NoInformation = 1e-12;

    private const int MostHalvings = 30;

    /// <summary>Fits the model.</summary>
    /// <param name="times">Follow-up, n rows.</param>
    /// <param name="x">Covariates, n rows by p columns, no intercept.</param>
    /// <param name="clusters">Rows that may be dependent: asks for the cluster-robust covariance. Null: rows are independent.</param>
    /// <param name="strata">Rows that share a baseline hazard. Null: one baseline.</param>
    /// <param name="weights">Case weights, zero or more, length n. Null: one.</param>
    /// <param name="offset">A part of the linear predictor with coefficient one, length n. Null: none.</param>
    /// <param name="options">Choices; null for the defaults.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree, a negative weight, weights with exact discrete ties.</exception>
    /// <exception cref="TooFewDataError">No event, or a single cluster.</exception>
    /// <exception cref="RankDeficientError">A column without information of its own; it is named.</exception>
    /// <exception cref="SeparationError">A coefficient is infinite; its column is named.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not reached.</exception>
    public static CoxFit Fit(
        SurvivalTimes times,
        DesignMatrix x,
        Clusters? clusters = null,
        Clusters? strata = null,
        IReadOnlyList<double>? weights = null,
        IReadOnlyList<double>? offset = null,
        CoxOptions? options = null)
    {
        options ??= CoxOptions.Default;
        double[] w = weights is null ? [] : [.. weights];
        double[] o = offset is null ? [] : [.. offset];
        Validate(times, x, clusters, strata, w, o, options);
        RiskSets sets = RiskSets.Build(times, strata);
        CoxColumns columns = new(sets, x, w, o);
        IPartialLikelihood likelihood = options.Ties == TiesMethod.ExactDiscrete
            ? new ExactDiscreteLikelihood(sets, columns)
            : new CoxPartialLikelihood(sets, columns, options.Ties);
        double[] beta = new double[x.Columns];
        likelihood.Evaluate(beta);
        RequireInformation(likelihood, x.Names);
        double atZero = likelihood.LogLikelihood;
        TestResult score = CoxFit.Score(likelihood, x.Names);
        int iterations = Maximize(likelihood, columns, beta, options.MaximumIterations);
        SymmetricMatrix model = new(x.Names, SmallCholesky.Factor(likelihood.Information, x.Columns, x.Names).Inverse());
        CoxPartialLikelihood? counting = likelihood as CoxPartialLikelihood;
        return new CoxFit
        {
            Coefficients = clusters is null
                ? new Coefficients(beta, model, "inverse information")
                : CoxClusterCovariance.Coefficients(counting!, beta, model, clusters, options.ClusterVariance),
            ModelCovariance = model,
            LogLikelihood = likelihood.LogLikelihood,
            NullLogLikelihood = atZero,
            ScoreTest = score,
            Rows = times.Rows,
            Events = times.EventCount,
            Clusters = clusters?.Count,
            Iterations = iterations,
            Ties = options.Ties,
            Warnings = Warnings(times, x.Columns),
            Likelihood = counting,
            Times = times,
            ClusterRows = clusters,
            StrataRows = strata,
        };
    }

    private static void Validate(SurvivalTimes times, DesignMatrix x, Clusters? clusters, Clusters? strata, double[] weights, double[] offset, CoxOptions options)
    {
        Require.SameLength(times.Rows, x.Rows, "times");
        if (times.EventCount == 0)
            throw new TooFewDataError("no row ends with an event", "A hazard ratio needs events; report the follow-up without them.");
        if (strata is not null)
            Require.SameLength(strata.Rows, x.Rows, "strata");
        if (offset.Length > 0)
        {
            Require.SameLength(offset.Length, x.Rows, "offset");
            Require.Finite(offset, "offset");
        }
        if (weights.Length > 0)
        {
            Require.SameLength(weights.Length, x.Rows, "weights");
            Require.Finite(weights, "weights");
            Require.AtLeast(weights, 0, "weights");
        }
        if (options.Ties == TiesMethod.ExactDiscrete && (weights.Length > 0 || clusters is not null))
            throw new InvalidInputError("exact discrete ties go without weights and without clusters", "Use Efron's method for ties.");
        ClusterRules.Require(clusters, times.Rows);
    }

    internal static void RequireInformation(IPartialLikelihood likelihood, IReadOnlyList<string> names)
    {
        int p = names.Count;
        List<string> empty = [];
        for (int j = 0; j < p; j++)
        {
            if (!(likelihood.Information[(j * p) + j] > NoInformation * likelihood.CrudeInformation[j]))
                empty.Add(names[j]);
        }
        if (empty.Count > 0)
            throw new RankDeficientError(empty);
    }

    internal static int Maximize(IPartialLikelihood likelihood, CoxColumns columns, double[] beta, int most)
    {
        int p = beta.Length;
        double[] informationAtZero = likelihood.Information.ToArray();
        double[] tried = new double[p];
        for (int iteration = 1; iteration <= most; iteration++)
        {
            double before = likelihood.LogLikelihood;
            double[] step = Step(likelihood, columns, iteration);
            double decrement = CrossProduct.Dot(likelihood.Score, step);
            RefuseSeparation(likelihood, columns, informationAtZero, step);
            double length = 1;
            for (int half = 0; ; half++, length /= 2)
            {
                for (int j = 0; j < p; j++)
                    tried[j] = beta[j] + (length * step[j]);
                likelihood.Evaluate(tried);
                if (likelihood.LogLikelihood >= before - (1e-12 * Math.Abs(before)))
                    break;
                if (half == MostHalvings)
                    throw new NotConvergedError("no step raises the partial likelihood", "Rescale columns of very different size; check for outlying values.", iteration);
            }
            tried.CopyTo(beta, 0);
            if (decrement < DecrementTolerance)
                return iteration;
        }
        throw new NotConvergedError($"the fit did not settle within {most} steps", "Look for a column with hardly any events on one side, or for outlying values.", most);
    }

    private static double[] Step(IPartialLikelihood likelihood, CoxColumns columns, int iteration)
    {
        try
        {
            return SmallCholesky.Factor(likelihood.Information, columns.Names.Count, columns.Names).Solve(likelihood.Score);
        }
        catch (RankDeficientError lost) when (iteration > 1)
        {
            // Full rank at zero, none here: the fit has run to where no risk set is mixed any more.
            throw new SeparationError(lost.Columns);
        }
    }

    private static void RefuseSeparation(IPartialLikelihood likelihood, CoxColumns columns, double[] informationAtZero, double[] step)
    {
        int p = step.Length;
        double largest = 0;
        for (int j = 0; j < p; j++)
            largest = Math.Max(largest, Math.Abs(step[j]) * columns.Spread[j]);
        double now = Quadratic(likelihood.Information, step);
        if (largest < 0.1 || now > LostInformation || now > LostInformation * Quadratic(informationAtZero, step))
            return;
        List<string> running = [];
        for (int j = 0; j < p; j++)
        {
            if (Math.Abs(step[j]) * columns.Spread[j] > 0.1 * largest)
                running.Add(columns.Names[j]);
        }
        throw new SeparationError(running);
    }

    private static double Quadratic(ReadOnlySpan<double> matrix, double[] v)
    {
        double sum = 0;
        for (int i = 0; i < v.Length; i++)
        {
            for (int j = 0; j < v.Length; j++)
                sum += v[i] * matrix[(i * v.Length) + j] * v[j];
        }
        return sum;
    }

    private static List<string> Warnings(SurvivalTimes times, int columns)
    {
        List<string> warnings = [];
        if (times.EventCount < 5 * columns)
            warnings.Add($"{times.EventCount} events for {columns} coefficients: fewer than five for each, estimates may lie far from zero by chance.");
        return warnings;
    }
}
