using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Mixed;

/// <summary>An orthonormal basis Q of the columns of a design, X = QR: the fixed effects are fitted in it and mapped back.</summary>
/// <remarks>
/// Modified Gram-Schmidt, each column projected twice, which is orthogonal to working precision (Giraud, Langou &amp;
/// Rozloznik 2005, Computers &amp; Mathematics with Applications 50:1069-1075). It makes the fit blind to the scale and the
/// origin of the columns, and finds the column that depends on those before it.
/// </remarks>
internal sealed class OrthonormalBasis
{
    // A column that keeps less than this share of its length after projection is a combination of those before it.
    private const double DependenceTolerance = 1e-9;

    private readonly double[] q;
    private readonly double[] r;

    private OrthonormalBasis(int rows, int columns)
    {
        Rows = rows;
        Columns = columns;
        q = new double[rows * columns];
        r = new double[columns * columns];
    }

    internal int Rows { get; }

    internal int Columns { get; }

    /// <summary>Twice the sum of the logs of the diagonal of R: log |X'X|.</summary>
    internal double LogDeterminant
    {
        get
        {
            double sum = 0;
            for (int j = 0; j < Columns; j++)
                sum += Math.Log(r[(j * Columns) + j]);
            return 2 * sum;
        }
    }

    /// <exception cref="RankDeficientError">A column is a combination of the columns before it.</exception>
    internal static OrthonormalBasis Of(DesignMatrix x)
    {
        OrthonormalBasis basis = new(x.Rows, x.Columns);
        List<string> dependent = [];
        for (int j = 0; j < x.Columns; j++)
        {
            Span<double> column = basis.q.AsSpan(j * x.Rows, x.Rows);
            x.Column(j).CopyTo(column);
            double before = Math.Sqrt(CrossProduct.Dot(column, column));
            for (int pass = 0; pass < 2; pass++)
                basis.Project(column, j, basis.r.AsSpan(), j);
            double norm = Math.Sqrt(CrossProduct.Dot(column, column));
            if (!(norm > DependenceTolerance * before))
            {
                dependent.Add(x.Names[j]);
                column.Clear();
                continue;
            }
            basis.r[(j * x.Columns) + j] = norm;
            for (int i = 0; i < column.Length; i++)
                column[i] /= norm;
        }
        return dependent.Count == 0 ? basis : throw new RankDeficientError(dependent);
    }

    internal ReadOnlySpan<double> Column(int column) => q.AsSpan(column * Rows, Rows);

    /// <summary>Replaces y by its residual from the columns and returns the coefficients Q'y.</summary>
    internal double[] Residualize(Span<double> y)
    {
        double[] coefficients = new double[Columns * Columns];
        for (int pass = 0; pass < 2; pass++)
            Project(y, Columns, coefficients, 0);
        double[] result = new double[Columns];
        for (int j = 0; j < Columns; j++)
            result[j] = coefficients[j * Columns];
        return result;
    }

    /// <summary>Coefficients of the original columns from those of the basis: R^-1 c.</summary>
    internal double[] ToOriginal(ReadOnlySpan<double> c)
    {
        double[] b = c.ToArray();
        for (int i = Columns - 1; i >= 0; i--)
        {
            for (int k = i + 1; k < Columns; k++)
                b[i] -= r[(i * Columns) + k] * b[k];
            b[i] /= r[(i * Columns) + i];
        }
        return b;
    }

    /// <summary>Coefficients of the basis from those of the original columns: R b.</summary>
    internal double[] ToBasis(ReadOnlySpan<double> b)
    {
        double[] c = new double[Columns];
        for (int i = 0; i < Columns; i++)
        {
            for (int k = i; k < Columns; k++)
                c[i] += r[(i * Columns) + k] * b[k];
        }
        return c;
    }

    /// <summary>Weights of a combination w'b of the original coefficients, as weights in the basis: R^-T w.</summary>
    internal double[] ContrastInBasis(ReadOnlySpan<double> w)
    {
        double[] c = w.ToArray();
        for (int i = 0; i < Columns; i++)
        {
            for (int k = 0; k < i; k++)
                c[i] -= r[(k * Columns) + i] * c[k];
            c[i] /= r[(i * Columns) + i];
        }
        return c;
    }

    // Takes the first columns out of a vector and adds the coefficients to one column of a square array.
    private void Project(Span<double> vector, int columns, Span<double> coefficients, int target)
    {
        for (int k = 0; k < columns; k++)
        {
            double share = CrossProduct.Dot(Column(k), vector);
            coefficients[(k * Columns) + target] += share;
            CrossProduct.AddScaled(Column(k), -share, vector);
        }
    }
}
