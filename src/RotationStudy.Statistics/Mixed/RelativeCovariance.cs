namespace RotationStudy.Statistics.Mixed;

/// <summary>The parameters theta of a mixed model and the factors they fill: the effects of a term have covariance s2 L L'.</summary>
/// <remarks>
/// L is lower triangular (diagonal for an uncorrelated term), in units of the residual standard deviation and of the root
/// mean square of the term's columns. The deviance is even in each column of L, so theta needs no bounds: a variance on
/// the boundary is a zero on the diagonal, where the deviance is smooth.
/// </remarks>
internal sealed class RelativeCovariance
{
    private readonly IReadOnlyList<RandomTerm> terms;
    private readonly double[][] scales;
    private readonly List<(int Term, int Row, int Column)> cells = [];

    internal RelativeCovariance(IReadOnlyList<RandomTerm> terms)
    {
        this.terms = terms;
        scales = new double[terms.Count][];
        for (int t = 0; t < terms.Count; t++)
        {
            scales[t] = new double[terms[t].Size];
            for (int column = 0; column < terms[t].Size; column++)
                scales[t][column] = terms[t].Scale(column);
            for (int column = 0; column < terms[t].Size; column++)
            {
                cells.Add((t, column, column));
                for (int row = column + 1; terms[t].Correlated && row < terms[t].Size; row++)
                    cells.Add((t, row, column));
            }
        }
    }

    /// <summary>Number of parameters.</summary>
    internal int Count => cells.Count;

    /// <summary>The cell of L that a parameter fills.</summary>
    internal (int Term, int Row, int Column) Cell(int parameter) => cells[parameter];

    /// <summary>The unit of a term's column: its root mean square.</summary>
    internal double Scale(int term, int column) => scales[term][column];

    /// <summary>Where the iteration starts: every effect varies as much as the residual.</summary>
    internal double[] Start()
    {
        double[] theta = new double[Count];
        for (int m = 0; m < Count; m++)
            theta[m] = cells[m].Row == cells[m].Column ? 1 : 0;
        return theta;
    }

    /// <summary>The factor of each term, q by q, row by row.</summary>
    internal double[][] Factors(ReadOnlySpan<double> theta)
    {
        double[][] factors = new double[terms.Count][];
        for (int t = 0; t < factors.Length; t++)
            factors[t] = new double[terms[t].Size * terms[t].Size];
        for (int m = 0; m < theta.Length; m++)
            factors[cells[m].Term][(cells[m].Row * terms[cells[m].Term].Size) + cells[m].Column] = theta[m];
        return factors;
    }

    /// <summary>Turns each column of L so that its diagonal is not negative.</summary>
    internal void MakeDiagonalPositive(Span<double> theta)
    {
        for (int m = 0; m < theta.Length; m++)
        {
            (int term, int row, int column) = cells[m];
            if (row != column || theta[m] >= 0)
                continue;
            for (int k = 0; k < theta.Length; k++)
            {
                if (cells[k].Term == term && cells[k].Column == column)
                    theta[k] = -theta[k];
            }
        }
    }

    /// <summary>
    /// Parameters of the same covariances with the columns of L that a variance of zero leaves without a diagonal set to
    /// zero: what stood below such a diagonal is turned into the later columns.
    /// </summary>
    internal double[] WithoutEmptyColumns(double[] theta, double tolerance)
    {
        double[] turned = [.. theta];
        double[][] factors = Factors(theta);
        for (int t = 0; t < factors.Length; t++)
        {
            int q = terms[t].Size;
            double[] l = factors[t];
            for (int k = 0; k < q; k++)
                l[(k * q) + k] = l[(k * q) + k] < tolerance ? 0 : l[(k * q) + k];
            factors[t] = Triangle(l, q);
        }
        for (int m = 0; m < turned.Length; m++)
            turned[m] = factors[cells[m].Term][(cells[m].Row * terms[cells[m].Term].Size) + cells[m].Column];
        return turned;
    }

    // Cholesky factor of L L', with columns of zeros where a pivot is zero.
    private static double[] Triangle(double[] l, int q)
    {
        double[] triangle = new double[q * q];
        for (int k = 0; k < q; k++)
        {
            double pivot = Product(l, k, k, q, q) - Product(triangle, k, k, q, k);
            if (!(pivot > 1e-12 * Math.Max(1e-4, Product(l, k, k, q, q))))
                continue;
            for (int i = k; i < q; i++)
                triangle[(i * q) + k] = (Product(l, i, k, q, q) - Product(triangle, i, k, q, k)) / Math.Sqrt(pivot);
        }
        return triangle;
    }

    private static double Product(double[] rows, int i, int j, int q, int columns)
    {
        double sum = 0;
        for (int k = 0; k < columns; k++)
            sum += rows[(i * q) + k] * rows[(j * q) + k];
        return sum;
    }

    /// <summary>The covariance of a term's effects in the columns' own units, divided by the residual variance; q by q.</summary>
    internal double[] Covariance(int term, ReadOnlySpan<double> theta)
    {
        int q = terms[term].Size;
        double[] l = ScaledFactor(term, theta);
        double[] covariance = new double[q * q];
        for (int i = 0; i < q; i++)
        {
            for (int j = 0; j < q; j++)
            {
                for (int k = 0; k <= Math.Min(i, j); k++)
                    covariance[(i * q) + j] += l[(i * q) + k] * l[(j * q) + k];
            }
        }
        return covariance;
    }

    /// <summary>The factor L of one term in the columns' own units.</summary>
    internal double[] ScaledFactor(int term, ReadOnlySpan<double> theta)
    {
        int q = terms[term].Size;
        double[] l = Factors(theta)[term];
        for (int i = 0; i < q; i++)
        {
            for (int k = 0; k < q; k++)
                l[(i * q) + k] /= scales[term][i];
        }
        return l;
    }
}
