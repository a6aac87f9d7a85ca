using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>
/// How far the mean of a continuous outcome differs per unit of each column: ordinary and weighted least squares.
/// </summary>
/// <remarks>
/// <para><b>Model</b>: y = X b + e with y of n rows, X n by p, and independent errors of mean zero and variance sigma^2
/// / w (w = 1 where no weights are given). Weights are inverse variances up to a factor, not counts of repeated rows:
/// doubling all of them changes no coefficient and no standard error. A row of weight zero takes no part: not in n, not
/// in any sum; it has a fitted value and a residual all the same.</para>
/// <para><b>Meaning</b>: b_j is the difference in mean outcome between rows that differ by one unit in column j and
/// agree in all others.</para>
/// <para><b>Assumptions</b> of the model-based variance: linearity, equal variance (up to the weights), independence.
/// Rows that belong together need <see cref="LinearRegressionResult.ClusterRobust(Clusters)"/>; unequal variances
/// <see cref="LinearRegressionResult.Robust"/>.</para>
/// <para><b>Fitted</b> by Householder QR in blocks of rows, then one step of refinement on the residuals (corrected
/// seminormal equations); no iteration, no stop rule. Time n p^2, memory linear in n.</para>
/// <para><b>Variance</b>: sigma^2 (X'WX)^-1 with sigma^2 = sum w e^2 / (n - p), t reference on n - p degrees of freedom.</para>
/// <para><b>Edges</b>: a column that depends on those before it (share of its length left under 1e-10) is named in a
/// <see cref="RankDeficientError"/>; no more rows of positive weight than columns is a <see cref="TooFewDataError"/>;
/// NaN and infinite values are refused with their row. A constant outcome fits exactly: slopes and residuals are
/// rounding noise around zero and R squared is zero by definition here.</para>
/// <para><b>Conventions</b>: R squared is about the mean when a constant column is in the design, about zero otherwise.
/// The log-likelihood is that at the maximum likelihood variance (division by n).</para>
/// <para><b>Sources</b>: Golub GH, Van Loan CF. Matrix Computations, chapter 5; Bjorck A. Linear Algebra Appl
/// 1987;88:31-48 (corrected seminormal equations); recalled, not re-read.</para>
/// <para><b>Checked against</b>: Linear/nist_strd_linear (certified values), Linear/weighted_linear, Mixed/orthodont,
/// Peers/cohort_300.</para>
/// </remarks>
public static class LinearRegression
{
    /// <summary>Fits by least squares.</summary>
    /// <param name="design">Columns, n by p.</param>
    /// <param name="outcome">Outcome, length n.</param>
    /// <param name="weights">Inverse variances up to a factor, zero or more, length n; null for equal weights.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree, values that are no numbers, negative weights.</exception>
    /// <exception cref="RankDeficientError">Columns that depend on others.</exception>
    /// <exception cref="TooFewDataError">No more rows than columns.</exception>
    public static LinearRegressionResult Fit(DesignMatrix design, IReadOnlyList<double> outcome, IReadOnlyList<double>? weights = null)
    {
        double[] y = Checked(outcome, design.Rows, "outcome");
        double[] w = weights is null ? [] : Checked(weights, design.Rows, "weights");
        Require.AtLeast(w, 0, "weights");
        RequireRows(design, w);

        TallQr qr = TallQr.Factor(design, w, y);
        double[] b = qr.Solve();
        double[] fitted = new double[design.Rows];
        double[] score = new double[design.Rows];
        Score(design, y, w, b, fitted, score);
        Refine(design, qr, b, score);
        Score(design, y, w, b, fitted, score);

        int df = RowsUsed(design.Rows, w) - design.Columns;
        WorkingLeastSquares step = WorkingLeastSquares.FromRoot(design, w, score, b, qr.InverseTriangle(), df);
        return new LinearRegressionResult(step, y, fitted);
    }

    // Fitted values and the weighted residuals w (y - Xb).
    private static void Score(DesignMatrix design, double[] y, double[] w, double[] b, double[] fitted, double[] score)
    {
        CrossProduct.LinearPredictor(design, b, [], fitted);
        for (int i = 0; i < y.Length; i++)
            score[i] = (w.Length > 0 ? w[i] : 1) * (y[i] - fitted[i]);
    }

    private static void Refine(DesignMatrix design, TallQr qr, double[] b, double[] score)
    {
        double[] step = new double[b.Length];
        CrossProduct.WithVector(design, score, step);
        qr.SolveNormal(step);
        for (int j = 0; j < b.Length; j++)
            b[j] += step[j];
    }

    private static double[] Checked(IReadOnlyList<double> values, int rows, string name)
    {
        Require.SameLength(values.Count, rows, name);
        double[] copy = [.. values];
        Require.Finite(copy, name);
        return copy;
    }

    private static void RequireRows(DesignMatrix design, double[] w)
    {
        int used = RowsUsed(design.Rows, w);
        if (used <= design.Columns)
        {
            throw new TooFewDataError(
                $"{used} rows of positive weight cannot carry {design.Columns} coefficients and a residual variance",
                "Take a smaller adjustment set or more rows.");
        }
    }

    private static int RowsUsed(int rows, double[] w) => w.Length == 0 ? rows : w.AsSpan().Length - w.AsSpan().Count(0.0);
}
