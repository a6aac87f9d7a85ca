namespace RotationStudy.Statistics.Regression;

/// <summary>A fitted proportional-odds regression.</summary>
public sealed record ProportionalOddsFit
{
    internal ProportionalOddsFit()
    {
    }

    /// <summary>Thresholds first, named "threshold above" a category, then the columns, with the variance asked for.</summary>
    public required Coefficients Coefficients { get; init; }

    /// <summary>Inverse of the observed information.</summary>
    public required SymmetricMatrix ModelBasedCovariance { get; init; }

    /// <summary>Categories that occur, lowest first.</summary>
    public required IReadOnlyList<string> Categories { get; init; }

    /// <summary>Rows in each of <see cref="Categories"/>, by case weights.</summary>
    public required IReadOnlyList<double> CategoryCounts { get; init; }

    /// <summary>Log-likelihood at the estimate.</summary>
    public required double LogLikelihood { get; init; }

    /// <summary>Log-likelihood of the model with thresholds only.</summary>
    public required double NullLogLikelihood { get; init; }

    /// <summary>Score test that no column matters.</summary>
    public required TestResult ScoreTest { get; init; }

    /// <summary>Likelihood-ratio test that no column matters.</summary>
    public TestResult LikelihoodRatioTest
        => GeneralizedLinearFit.ChiSquaredTest("likelihood-ratio chi-square", 2 * (LogLikelihood - NullLogLikelihood), ScoreTest.DegreesOfFreedom);

    /// <summary>Rows of positive weight.</summary>
    public required int Rows { get; init; }

    /// <summary>Number of clusters; null where rows were taken as independent.</summary>
    public int? ClusterCount { get; init; }

    /// <summary>Newton steps made.</summary>
    public required int Iterations { get; init; }

    /// <summary>What a reader should know before trusting the numbers.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }

    /// <summary>Fitted probability of each category for one row of columns, in the order of <see cref="Categories"/>.</summary>
    /// <exception cref="InvalidInputError">Another number of values than the model has columns.</exception>
    public IReadOnlyList<double> Probabilities(ReadOnlySpan<double> columns)
    {
        int cuts = Categories.Count - 1;
        Require.SameLength(columns.Length, Coefficients.Values.Count - cuts, "columns");
        double eta = 0;
        for (int j = 0; j < columns.Length; j++)
            eta += columns[j] * Coefficients.Values[cuts + j];
        double[] probabilities = new double[cuts + 1];
        double below = 0;
        for (int k = 0; k <= cuts; k++)
        {
            double through = k == cuts ? 1 : default(LogisticFamily).Mean(Coefficients.Values[k] - eta);
            probabilities[k] = through - below;
            below = through;
        }
        return probabilities;
    }
}
