using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>Squared distances of rows from their middle under a covariance that outlying rows do not move.</summary>
/// <remarks>
/// One column: median and median absolute deviation. Several: columns are scaled by these; the innermost three quarters of the
/// rows give a mean and covariance, the rows nearest under these give the next, until the set stays the same. This is the
/// concentration step of Rousseeuw and Van Driessen 1999 (Technometrics 41:212-223; recalled, not re-read) from one fixed
/// start instead of many random ones, so that the same rows give the same distances. Distances are scaled so that their
/// median is that of a chi-square.
/// </remarks>
internal static class RobustDistance
{
    private const double NormalConsistency = 1.4826;
    private const double Inner = 0.75;
    private const int MostSteps = 30;

    /// <summary>Squared distances; null when a column has no spread among its inner rows, or columns determine each other.</summary>
    /// <param name="values">Values by row.</param>
    /// <param name="columns">Number of columns.</param>
    internal static double[]? Squares(double[] values, int columns)
    {
        int rows = values.Length / columns;
        double[] scaled = new double[values.Length];
        double[] column = new double[rows];
        for (int j = 0; j < columns; j++)
        {
            for (int i = 0; i < rows; i++)
                column[i] = values[(i * columns) + j];
            double middle = Median(column);
            for (int i = 0; i < rows; i++)
                column[i] = Math.Abs(values[(i * columns) + j] - middle);
            double spread = NormalConsistency * Median(column);
            if (spread <= 0)
                return null;
            for (int i = 0; i < rows; i++)
                scaled[(i * columns) + j] = (values[(i * columns) + j] - middle) / spread;
        }
        double[] squares = new double[rows];
        for (int i = 0; i < rows; i++)
        {
            foreach (double z in scaled.AsSpan(i * columns, columns))
                squares[i] += z * z;
        }
        return columns == 1 ? squares : Concentrate(scaled, columns, squares);
    }

    private static double[]? Concentrate(double[] scaled, int columns, double[] squares)
    {
        int rows = squares.Length;
        double[] sorted = new double[rows];
        double before = double.NaN;
        for (int step = 0; step < MostSteps; step++)
        {
            squares.CopyTo(sorted, 0);
            Array.Sort(sorted);
            double radius = sorted[(int)(Inner * (rows - 1))];
            double[] mean = new double[columns];
            double[] factor = new double[columns * columns];
            Moments(scaled, squares, radius, mean, factor);
            if (!Factorize(factor, columns))
                return null;
            Distances(scaled, mean, factor, squares);
            if (radius == before)
                break;
            before = radius;
        }
        squares.CopyTo(sorted, 0);
        double scale = Median(sorted) / ChiSquared.Quantile(0.5, columns);
        for (int i = 0; i < rows; i++)
            squares[i] /= scale;
        return squares;
    }

    /// <summary>Mean and covariance of the rows within the radius.</summary>
    private static void Moments(double[] scaled, double[] squares, double radius, double[] mean, double[] covariance)
    {
        int columns = mean.Length;
        int count = 0;
        for (int i = 0; i < squares.Length; i++)
        {
            if (squares[i] > radius)
                continue;
            count++;
            for (int j = 0; j < columns; j++)
                mean[j] += scaled[(i * columns) + j];
        }
        for (int j = 0; j < columns; j++)
            mean[j] /= count;
        for (int i = 0; i < squares.Length; i++)
        {
            if (squares[i] > radius)
                continue;
            for (int j = 0; j < columns; j++)
            {
                double a = (scaled[(i * columns) + j] - mean[j]) / count;
                for (int k = 0; k <= j; k++)
                    covariance[(j * columns) + k] += a * (scaled[(i * columns) + k] - mean[k]);
            }
        }
    }

    /// <summary>The lower Cholesky factor in place; false when the covariance is not positive.</summary>
    private static bool Factorize(double[] a, int n)
    {
        for (int j = 0; j < n; j++)
        {
            for (int i = j; i < n; i++)
            {
                double sum = a[(i * n) + j];
                for (int k = 0; k < j; k++)
                    sum -= a[(i * n) + k] * a[(j * n) + k];
                if (i == j && sum <= 1e-10)
                    return false;
                a[(i * n) + j] = i == j ? Math.Sqrt(sum) : sum / a[(j * n) + j];
            }
        }
        return true;
    }

    private static void Distances(double[] scaled, double[] mean, double[] factor, double[] squares)
    {
        int n = mean.Length;
        double[] z = new double[n];
        for (int i = 0; i < squares.Length; i++)
        {
            double sum = 0;
            for (int j = 0; j < n; j++)
            {
                double value = scaled[(i * n) + j] - mean[j];
                for (int k = 0; k < j; k++)
                    value -= factor[(j * n) + k] * z[k];
                z[j] = value / factor[(j * n) + j];
                sum += z[j] * z[j];
            }
            squares[i] = sum;
        }
    }

    /// <summary>The median; the values are left sorted.</summary>
    private static double Median(double[] values)
    {
        Array.Sort(values);
        int half = values.Length / 2;
        return values.Length % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
    }
}
