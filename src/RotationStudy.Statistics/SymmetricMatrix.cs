namespace RotationStudy.Statistics;

/// <summary>A small symmetric matrix with named rows, such as a covariance of p coefficients (p by p).</summary>
public sealed class SymmetricMatrix
{
    private readonly double[] values;

    /// <summary>Wraps a full p by p array, row by row; the two triangles are averaged so that it is exactly symmetric.</summary>
    /// <exception cref="InvalidInputError">The array's length is not the square of the number of names.</exception>
    public SymmetricMatrix(IReadOnlyList<string> names, ReadOnlySpan<double> full)
    {
        int p = names.Count;
        if (full.Length != p * p)
            throw new InvalidInputError($"{full.Length} values cannot fill a {p} by {p} matrix", "Give p times p values, row by row.");
        Names = names;
        values = new double[p * p];
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j <= i; j++)
                values[(i * p) + j] = values[(j * p) + i] = i == j ? full[(i * p) + i] : 0.5 * (full[(i * p) + j] + full[(j * p) + i]);
        }
    }

    /// <summary>Names of the rows and columns.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>Number of rows, p.</summary>
    public int Size => Names.Count;

    /// <summary>One entry, both indices from 0.</summary>
    public double this[int row, int column] => values[(row * Size) + column];

    /// <summary>All entries, row by row, length p squared.</summary>
    public ReadOnlySpan<double> Values => values;

    /// <summary>The quadratic form c' M d of two vectors of length p.</summary>
    public double Quadratic(ReadOnlySpan<double> c, ReadOnlySpan<double> d)
    {
        double sum = 0;
        for (int i = 0; i < Size; i++)
        {
            double inner = 0;
            for (int j = 0; j < Size; j++)
                inner += values[(i * Size) + j] * d[j];
            sum += c[i] * inner;
        }
        return sum;
    }

    /// <summary>The matrix times a number.</summary>
    public SymmetricMatrix Scale(double factor)
    {
        double[] scaled = new double[values.Length];
        for (int i = 0; i < scaled.Length; i++)
            scaled[i] = values[i] * factor;
        return new SymmetricMatrix(Names, scaled);
    }
}
