namespace RotationStudy.Statistics.Solvers;

/// <summary>
/// The triangle R and the vector Q'y of a QR factorisation of a tall matrix, made block of rows by block of rows.
/// </summary>
/// <remarks>
/// Householder reflections fold each block of rows into the triangle that stands for all rows before it, so Q is never
/// stored, the block stays in the first-level cache and the result is as accurate as one large Householder QR. With
/// weights the rows are those of W^(1/2) X and W^(1/2) y.
/// <para><b>Sources</b>: Golub GH, Van Loan CF. Matrix Computations, sections 5.2 and 6.5 (updating a QR by rows;
/// recalled, not re-read).</para>
/// </remarks>
internal sealed class TallQr
{
    // A column that keeps less than this share of its length beside the columns before it depends on them.
    private const double DependenceTolerance = 1e-10;
    private const int BlockRows = 256;

    private readonly int p;
    private readonly double[] r;

    private TallQr(int p)
    {
        this.p = p;
        r = new double[p * (p + 1)];
    }

    /// <summary>Factors W^(1/2) X together with W^(1/2) y; empty weights mean ones.</summary>
    /// <exception cref="RankDeficientError">Columns that depend on those before them, named.</exception>
    internal static TallQr Factor(DesignMatrix x, ReadOnlySpan<double> weights, ReadOnlySpan<double> y)
    {
        int p = x.Columns;
        TallQr qr = new(p);
        double[] block = new double[BlockRows * (p + 1)];
        for (int from = 0; from < x.Rows; from += BlockRows)
        {
            int length = Math.Min(BlockRows, x.Rows - from);
            for (int j = 0; j <= p; j++)
            {
                Span<double> column = block.AsSpan(j * BlockRows, length);
                (j < p ? x.Column(j) : y).Slice(from, length).CopyTo(column);
                for (int i = 0; i < length && !weights.IsEmpty; i++)
                    column[i] *= Math.Sqrt(weights[from + i]);
            }
            qr.Fold(block, length);
        }
        qr.RequireFullRank(x.Names);
        return qr;
    }

    /// <summary>The solution of R b = Q'y: the least-squares coefficients.</summary>
    internal double[] Solve()
    {
        double[] b = new double[p];
        for (int i = 0; i < p; i++)
            b[i] = r[(i * (p + 1)) + p];
        SolveUpper(b);
        return b;
    }

    /// <summary>R^-1 R^-T v, in place: one step of the corrected seminormal equations for v = X'W(y - Xb).</summary>
    internal void SolveNormal(Span<double> v)
    {
        for (int i = 0; i < p; i++)
        {
            double sum = v[i];
            for (int k = 0; k < i; k++)
                sum -= r[(k * (p + 1)) + i] * v[k];
            v[i] = sum / r[(i * (p + 1)) + i];
        }
        SolveUpper(v);
    }

    /// <summary>N = R^-1, row by row, upper triangular: N N' = (X'WX)^-1.</summary>
    internal double[] InverseTriangle()
    {
        double[] inverse = new double[p * p];
        double[] column = new double[p];
        for (int j = 0; j < p; j++)
        {
            Array.Clear(column);
            column[j] = 1;
            SolveUpper(column);
            for (int i = 0; i <= j; i++)
                inverse[(i * p) + j] = column[i];
        }
        return inverse;
    }

    private void SolveUpper(Span<double> b)
    {
        for (int i = p - 1; i >= 0; i--)
        {
            double sum = b[i];
            for (int k = i + 1; k < p; k++)
                sum -= r[(i * (p + 1)) + k] * b[k];
            b[i] = sum / r[(i * (p + 1)) + i];
        }
    }

    // Reflection j acts on row j of the triangle and on the block: v = (r_jj - alpha, block column j).
    private void Fold(double[] block, int length)
    {
        for (int j = 0; j < p; j++)
        {
            ReadOnlySpan<double> column = block.AsSpan(j * BlockRows, length);
            double below = CrossProduct.Dot(column, column);
            if (below == 0)
                continue;
            double diagonal = r[(j * (p + 1)) + j];
            double alpha = -Math.CopySign(Math.Sqrt((diagonal * diagonal) + below), diagonal);
            double head = diagonal - alpha;
            double scale = 2 / ((head * head) + below);
            r[(j * (p + 1)) + j] = alpha;
            for (int k = j + 1; k <= p; k++)
            {
                Span<double> target = block.AsSpan(k * BlockRows, length);
                ref double top = ref r[(j * (p + 1)) + k];
                double along = scale * ((head * top) + CrossProduct.Dot(column, target));
                top -= along * head;
                CrossProduct.AddScaled(column, -along, target);
            }
        }
    }

    // Gram-Schmidt on the columns of R, twice over, leaving out those that depend on the kept ones before them.
    private void RequireFullRank(IReadOnlyList<string> names)
    {
        List<double[]> basis = [];
        List<string> dependent = [];
        for (int j = 0; j < p; j++)
        {
            double[] column = new double[p];
            for (int i = 0; i <= j; i++)
                column[i] = r[(i * (p + 1)) + j];
            double length = Math.Sqrt(CrossProduct.Dot(column, column));
            for (int pass = 0; pass < 2; pass++)
            {
                foreach (double[] kept in basis)
                    CrossProduct.AddScaled(kept, -CrossProduct.Dot(kept, column), column);
            }
            double left = Math.Sqrt(CrossProduct.Dot(column, column));
            if (!(left > DependenceTolerance * length))
            {
                dependent.Add(names[j]);
                continue;
            }
            for (int i = 0; i < p; i++)
                column[i] /= left;
            basis.Add(column);
        }
        if (dependent.Count > 0)
            throw new RankDeficientError(dependent);
    }
}
