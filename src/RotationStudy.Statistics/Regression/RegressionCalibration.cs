using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>How much of a column's variance is error of measurement, as a reliability study found it.</summary>
/// <param name="Column">Name of the column in the design.</param>
/// <param name="Variance">Error variance of one value of the column, in its squared unit.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of that variance; infinite where it is taken as known.</param>
public sealed record ColumnError(string Column, double Variance, double DegreesOfFreedom = double.PositiveInfinity);

/// <summary>How well a column with error stands for what it measures.</summary>
/// <param name="Column">Name of the column.</param>
/// <param name="ErrorVariance">Error variance handed in.</param>
/// <param name="Reliability">One less error variance over variance: the reliability of the column by itself.</param>
/// <param name="ConditionalReliability">The same given the other columns; what the correction divides by where one column has error.</param>
public sealed record CalibratedColumn(string Column, double ErrorVariance, double Reliability, double ConditionalReliability);

/// <summary>Coefficients corrected for error in columns.</summary>
/// <param name="Corrected">Corrected coefficients of the columns, without the intercept, with their covariance.</param>
/// <param name="Columns">The columns with error.</param>
/// <param name="ShareFromError">For each coefficient, the share of its variance that comes from not knowing the error variances.</param>
public sealed record RegressionCalibrationResult(Coefficients Corrected, IReadOnlyList<CalibratedColumn> Columns, IReadOnlyList<double> ShareFromError);

/// <summary>Regression calibration: coefficients corrected for classical error in one or more columns, from a reliability study.</summary>
/// <remarks>
/// <para>Columns w = x + u with error u of mean zero, independent of x, of the other columns and of the outcome; U is the
/// covariance of u (diagonal here, zero for columns without error) and S that of the columns as measured, over rows. Then
/// E(x | w) is taken as linear with matrix (S - U) S^-1, so that fitted coefficients b* estimate S^-1 (S - U) b and the
/// corrected ones are b = (S - U)^-1 S b*. This is what one gets by fitting the model to E(x | w) in place of w.</para>
/// <para>Exact in large samples for linear regression, where it is the moment estimator of errors-in-variables. For odds,
/// rates and hazards an approximation: good where coefficients times the error's standard deviation given w are small (below
/// about one half) or events are rare; it corrects too little where associations are strong.</para>
/// <para>Variance by the delta method, M (S V S + V_S + V_U) M with M = (S - U)^-1: V is the covariance of b*; V_S that of
/// the second moments, summed within clusters with factor G/(G-1); V_U = b^2 2 u^2 / df from the reliability study, which
/// is taken as independent of the main data. b* and S are uncorrelated in large samples where the model is right. Degrees
/// of freedom stay those of b*. With fewer than about 10 degrees of freedom of an error variance the interval is rough.</para>
/// <para>At the edges: an error variance as large as what varies given the other columns leaves nothing to calibrate to and
/// is refused.</para>
/// <para><b>Sources.</b> Rosner B, Spiegelman D, Willett WC, Am J Epidemiol 1990;132:734-745 and 1992;136:1400-1413
/// (reliability studies); Carroll RJ, Ruppert D, Stefanski LA, Crainiceanu CM, Measurement Error in Nonlinear Models, 2nd
/// ed. 2006, ch. 4; Fuller WA, Measurement Error Models, 1987, sec. 1.2 and 2.2. <b>Checked against</b> MeasurementError/fuller_corn.</para>
/// </remarks>
public static class RegressionCalibration
{
    /// <summary>Corrects fitted coefficients.</summary>
    /// <param name="fitted">Coefficients of the model fitted to the columns as measured; terms that are no columns (intercept) are left out.</param>
    /// <param name="design">The columns as measured, without an intercept.</param>
    /// <param name="clusters">Which rows belong together.</param>
    /// <param name="errors">Columns with error.</param>
    /// <exception cref="InvalidInputError">A column that does not exist or is named twice; a variance below zero, or as large as the column's own given the others.</exception>
    /// <exception cref="TooFewDataError">One cluster.</exception>
    /// <exception cref="RankDeficientError">Columns that are combinations of others.</exception>
    public static RegressionCalibrationResult Correct(Coefficients fitted, DesignMatrix design, Clusters clusters, IReadOnlyList<ColumnError> errors)
    {
        double[] u = ErrorVariances(design, errors);
        if (clusters.Count < 2)
            throw new TooFewDataError($"{clusters.Count} cluster gives no variance of the columns", "Give two clusters at the very least.");
        Require.SameLength(clusters.Rows, design.Rows, "clusters");
        int p = design.Columns;
        double[] centred = Centred(design);
        double[] s = Moments(centred, design.Rows, p);
        SmallCholesky own = SmallCholesky.Factor(s, p, design.Names);
        double[] inverse = TrueInverse(s, u, design.Names);
        double[] naive = [.. design.Names.Select(n => fitted.Values[fitted.IndexOf(n)])];
        double[] corrected = SmallMatrix.Product(inverse, SmallMatrix.Product(s, naive, p, p, 1), p, p, 1);

        double[] fromFit = SmallMatrix.Product(SmallMatrix.Product(s, Covariance(fitted, design), p, p, p), s, p, p, p);
        double[] fromMoments = MomentVariance(centred, s, naive, corrected, clusters);
        double[] fromError = new double[p * p];
        foreach (ColumnError error in errors)
        {
            int k = design.IndexOf(error.Column);
            fromError[(k * p) + k] = corrected[k] * corrected[k] * 2 * u[k] * u[k] / error.DegreesOfFreedom;
        }
        double[] errorPart = Sandwich(inverse, fromError, p);
        double[] covariance = Sandwich(inverse, [.. fromFit.Select((v, i) => v + fromMoments[i] + fromError[i])], p);
        double[] df = [.. design.Names.Select(n => fitted.DegreesOfFreedom[fitted.IndexOf(n)])];
        return new RegressionCalibrationResult(
            new Coefficients(corrected, new SymmetricMatrix(design.Names, covariance), $"regression calibration, delta method over {fitted.VarianceMethod}", df),
            [.. errors.Select(e => Column(design.IndexOf(e.Column), design, u, s, own))],
            [.. Enumerable.Range(0, p).Select(j => covariance[(j * p) + j] > 0 ? errorPart[(j * p) + j] / covariance[(j * p) + j] : 0)]);
    }

    private static double[] ErrorVariances(DesignMatrix design, IReadOnlyList<ColumnError> errors)
    {
        if (errors.Count == 0)
            throw new InvalidInputError("no column has an error variance", "Name a column with its error variance.");
        double[] u = new double[design.Columns];
        HashSet<string> seen = new(StringComparer.Ordinal);
        foreach (ColumnError error in errors)
        {
            int k = design.IndexOf(error.Column);
            if (k < 0 || error.Column == DesignMatrix.InterceptName)
                throw new InvalidInputError($"no column is called '{error.Column}'", $"The design has {string.Join(", ", design.Names)}.", column: error.Column);
            if (!seen.Add(error.Column))
                throw new InvalidInputError($"'{error.Column}' has two error variances", "Give one.", column: error.Column);
            if (!(error.Variance >= 0) || double.IsInfinity(error.Variance) || !(error.DegreesOfFreedom > 0))
                throw new InvalidInputError($"'{error.Column}' has error variance {error.Variance} on {error.DegreesOfFreedom} degrees of freedom", "Give a variance of zero or more on degrees of freedom above zero.", column: error.Column);
            u[k] = error.Variance;
        }
        return u;
    }

    /// <summary>Columns less their means, row by row.</summary>
    private static double[] Centred(DesignMatrix design)
    {
        int p = design.Columns;
        double[] centred = new double[design.Rows * p];
        for (int j = 0; j < p; j++)
        {
            ReadOnlySpan<double> column = design.Column(j);
            double mean = 0;
            foreach (double v in column)
                mean += v;
            mean /= column.Length;
            for (int i = 0; i < column.Length; i++)
                centred[(i * p) + j] = column[i] - mean;
        }
        return centred;
    }

    private static double[] Moments(double[] centred, int rows, int p)
    {
        double[] s = new double[p * p];
        for (int i = 0; i < rows; i++)
        {
            ReadOnlySpan<double> x = centred.AsSpan(i * p, p);
            for (int j = 0; j < p; j++)
                CrossProduct.AddScaled(x, x[j] / (rows - 1), s.AsSpan(j * p, p));
        }
        return s;
    }

    private static double[] TrueInverse(double[] s, double[] u, IReadOnlyList<string> names)
    {
        double[] truth = [.. s];
        for (int j = 0; j < u.Length; j++)
            truth[(j * u.Length) + j] -= u[j];
        try
        {
            return SmallCholesky.Factor(truth, u.Length, names).Inverse();
        }
        catch (RankDeficientError)
        {
            string[] large = [.. names.Where((_, j) => u[j] > 0)];
            throw new InvalidInputError(
                $"the error variance of {string.Join(", ", large)} is as large as what varies in these rows given the other columns",
                "Nothing is left to calibrate to: measure with less error, or check that the error is in the unit of the column.");
        }
    }

    private static double[] Covariance(Coefficients fitted, DesignMatrix design)
    {
        int[] at = [.. design.Names.Select(fitted.IndexOf)];
        return [.. at.SelectMany(a => at.Select(b => fitted.Covariance[a, b]))];
    }

    /// <summary>Covariance of S (b* - b) over clusters: the second moments as estimated from these rows.</summary>
    private static double[] MomentVariance(double[] centred, double[] s, double[] naive, double[] corrected, Clusters clusters)
    {
        int p = naive.Length;
        double[] d = [.. naive.Select((v, j) => v - corrected[j])];
        double[] expected = SmallMatrix.Product(s, d, p, p, 1);
        double[] variance = new double[p * p];
        double[] psi = new double[p];
        for (int g = 0; g < clusters.Count; g++)
        {
            Array.Clear(psi);
            foreach (int i in clusters.Members(g))
            {
                ReadOnlySpan<double> x = centred.AsSpan(i * p, p);
                double xd = 0;
                for (int j = 0; j < p; j++)
                    xd += x[j] * d[j];
                for (int j = 0; j < p; j++)
                    psi[j] += ((x[j] * xd) - expected[j]) / (clusters.Rows - 1);
            }
            for (int j = 0; j < p; j++)
                CrossProduct.AddScaled(psi, psi[j] * clusters.Count / (clusters.Count - 1), variance.AsSpan(j * p, p));
        }
        return variance;
    }

    private static double[] Sandwich(double[] bread, double[] meat, int p)
        => SmallMatrix.Product(SmallMatrix.Product(bread, meat, p, p, p), bread, p, p, p);

    private static CalibratedColumn Column(int k, DesignMatrix design, double[] u, double[] s, SmallCholesky own)
    {
        int p = design.Columns;
        double[] unit = new double[p];
        unit[k] = 1;
        double givenOthers = 1 / own.Solve(unit)[k];
        return new CalibratedColumn(design.Names[k], u[k], 1 - (u[k] / s[(k * p) + k]), 1 - (u[k] / givenOthers));
    }
}
