using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Clustered;

/// <summary>The iteration of generalised estimating equations and the sums that its variances are made of.</summary>
internal sealed class EstimatingEquations
{
    private const double StepTolerance = 1e-9;
    private const double SeparatedPredictor = 15;

    private readonly double[] y;
    private readonly double[] offset;
    private readonly GeneralizedEstimatingEquationsOptions options;
    private readonly CorrelatedRows rows;
    private readonly double[] predictor;
    private readonly double[] mean;
    private readonly double[] variance;
    private readonly double[] pearson;
    private readonly double[] scaled;
    private readonly double[][] columns;

    internal EstimatingEquations(
        DesignMatrix x, double[] outcome, double[] offset, Clusters clusters, MarginalFamily family, GeneralizedEstimatingEquationsOptions options)
    {
        X = x;
        y = outcome;
        this.offset = offset;
        this.options = options;
        Family = family;
        rows = new CorrelatedRows(options.Correlation, clusters, options.Times);
        predictor = new double[x.Rows];
        mean = new double[x.Rows];
        variance = new double[x.Rows];
        pearson = new double[x.Rows];
        scaled = new double[x.Rows];
        columns = new double[x.Columns + 1][];
        for (int j = 0; j < columns.Length; j++)
            columns[j] = new double[x.Rows];
        Coefficients = new double[x.Columns];
        Information = new double[x.Columns * x.Columns];
        Score = new double[x.Columns];
    }

    internal DesignMatrix X { get; }

    internal MarginalFamily Family { get; }

    internal double[] Coefficients { get; }

    /// <summary>D'V^-1 D with a scale of one, p by p.</summary>
    internal double[] Information { get; }

    /// <summary>Its inverse, p by p.</summary>
    internal double[] InverseInformation { get; private set; } = [];

    internal double[] Score { get; }

    internal double Correlation { get; private set; }

    internal double Scale { get; private set; }

    internal int Iterations { get; private set; }

    internal ReadOnlySpan<double> Mean => mean;

    internal double QuasiLikelihood => MarginalFamilies.QuasiLikelihood(Family, y, predictor, mean);

    internal void Solve()
    {
        StartFromOutcome();
        bool stepped = false;
        for (Iterations = 1; Iterations <= options.MostIterations; Iterations++)
        {
            Residuals();
            double wanted = rows.Estimate(pearson, Scale, options.Divisor == ScaleDivisor.Rows ? 0 : X.Columns, options.AutoregressivePairs);
            (double lower, double upper) = rows.ValidRange;
            bool inside = wanted > lower && wanted < upper;
            double margin = 0.01 * (upper - lower);
            Correlation = inside ? wanted : Math.Clamp(wanted, lower + margin, upper - margin);
            double moved = Step();
            if (stepped && moved < StepTolerance * StepTolerance)
            {
                Finish(wanted, inside);
                return;
            }
            stepped = true;
        }
        ThrowUnsolved();
    }

    /// <summary>Information under independence at the fitted coefficients with a scale of one, p by p.</summary>
    internal double[] IndependenceInformation()
    {
        double[] information = new double[Information.Length];
        CrossProduct.Weighted(X, variance, information);
        return information;
    }

    /// <summary>Each cluster's score and information in turn.</summary>
    internal void ForEachCluster(Clusters clusters, Action<double[], double[]> use)
    {
        int p = X.Columns;
        double[] score = new double[p];
        double[] own = new double[p * p];
        for (int c = 0; c < clusters.Count; c++)
        {
            Array.Clear(score);
            Array.Clear(own);
            foreach (int row in clusters.Members(c))
            {
                for (int i = 0; i < p; i++)
                {
                    double value = columns[i][row];
                    score[i] += value * columns[p][row];
                    for (int j = 0; j <= i; j++)
                        own[(i * p) + j] += value * columns[j][row];
                }
            }
            for (int i = 0; i < p; i++)
            {
                for (int j = 0; j < i; j++)
                    own[(j * p) + i] = own[(i * p) + j];
            }
            use(score, own);
        }
    }

    // One weighted least-squares step towards the outcome itself gives the first coefficients.
    private void StartFromOutcome()
    {
        for (int i = 0; i < y.Length; i++)
            predictor[i] = MarginalFamilies.StartingMean(Family, y[i]);
        MarginalFamilies.MeanAndVariance(Family, predictor, mean, variance);
        double[] weighted = new double[y.Length];
        for (int i = 0; i < y.Length; i++)
            weighted[i] = variance[i] * (predictor[i] - (offset.Length > 0 ? offset[i] : 0));
        CrossProduct.Weighted(X, variance, Information);
        CrossProduct.WithVector(X, weighted, Score);
        SmallCholesky.Factor(Information, X.Columns, X.Names).Solve(Score).CopyTo(Coefficients, 0);
    }

    // Means, Pearson residuals and the scale at the present coefficients.
    private void Residuals()
    {
        CrossProduct.LinearPredictor(X, Coefficients, offset, predictor);
        MarginalFamilies.MeanAndVariance(Family, predictor, mean, variance);
        double chiSquare = 0;
        for (int i = 0; i < y.Length; i++)
        {
            pearson[i] = variance[i] > 0 ? (y[i] - mean[i]) / Math.Sqrt(variance[i]) : 0;
            chiSquare += pearson[i] * pearson[i];
        }
        Scale = chiSquare / (options.Divisor == ScaleDivisor.Rows ? y.Length : y.Length - X.Columns);
        if (!double.IsFinite(Scale))
            ThrowUnsolved();
        if (!(Scale > 0))
            throw new TooFewDataError("the columns fit the outcome exactly, so there is no residual variance", "Use fewer columns.");
    }

    // A scoring step; returns its squared length in standard errors.
    private double Step()
    {
        Decorrelate();
        int p = X.Columns;
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j <= i; j++)
                Information[(i * p) + j] = Information[(j * p) + i] = CrossProduct.Dot(columns[i], columns[j]);
            Score[i] = CrossProduct.Dot(columns[i], columns[p]);
        }
        double[] step = Factor().Solve(Score);
        double moved = 0;
        for (int i = 0; i < p; i++)
        {
            Coefficients[i] += step[i];
            moved += step[i] * Score[i] / Scale;
        }
        return moved;
    }

    // Columns times the root of the variance, and Pearson residuals, both times the root of the inverse correlation.
    private void Decorrelate()
    {
        for (int j = 0; j < X.Columns; j++)
        {
            ReadOnlySpan<double> column = X.Column(j);
            for (int i = 0; i < scaled.Length; i++)
                scaled[i] = column[i] * Math.Sqrt(variance[i]);
            rows.Decorrelate(Correlation, scaled, columns[j]);
        }
        rows.Decorrelate(Correlation, pearson, columns[X.Columns]);
    }

    private void Finish(double wanted, bool inside)
    {
        if (!inside)
        {
            (double lower, double upper) = rows.ValidRange;
            throw new NotConvergedError(FormattableString.Invariant($"the working correlation, {wanted:0.###}, leaves the range from {lower:0.###} to {upper:0.###} that clusters of this size allow"), "Use independence as working correlation: the coefficients and their sandwich variance stay valid.", Iterations);
        }
        Residuals();
        Step();
        InverseInformation = Factor().Inverse();
    }

    // Weights that vanish because the fitted probabilities reach zero and one look like dependent columns.
    private SmallCholesky Factor()
    {
        try
        {
            return SmallCholesky.Factor(Information, X.Columns, X.Names);
        }
        catch (RankDeficientError) when (Separated)
        {
            throw new SeparationError([.. X.Names.Where(n => n != DesignMatrix.InterceptName)]);
        }
    }

    private bool Separated => Family == MarginalFamily.Binomial && predictor.Any(e => Math.Abs(e) > SeparatedPredictor || !double.IsFinite(e));

    private void ThrowUnsolved()
    {
        if (Separated)
            throw new SeparationError([.. X.Names.Where(n => n != DesignMatrix.InterceptName)]);
        throw new NotConvergedError($"the estimating equations were not solved in {options.MostIterations} rounds", "Use independence as working correlation, fewer columns, or look for outcomes that one column fixes.", Math.Min(Iterations, options.MostIterations));
    }
}
