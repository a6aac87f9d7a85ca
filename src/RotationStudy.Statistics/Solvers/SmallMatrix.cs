namespace RotationStudy.Statistics.Solvers;

/// <summary>Products of small full matrices, each given row by row.</summary>
internal static class SmallMatrix
{
    /// <summary>A B for A of rows by inner and B of inner by columns.</summary>
    internal static double[] Product(ReadOnlySpan<double> a, ReadOnlySpan<double> b, int rows, int inner, int columns)
    {
        double[] product = new double[rows * columns];
        for (int i = 0; i < rows; i++)
        {
            for (int k = 0; k < inner; k++)
                CrossProduct.AddScaled(b.Slice(k * columns, columns), a[(i * inner) + k], product.AsSpan(i * columns, columns));
        }
        return product;
    }

    /// <summary>The identity of a size.</summary>
    internal static double[] Identity(int size)
    {
        double[] identity = new double[size * size];
        for (int i = 0; i < size; i++)
            identity[(i * size) + i] = 1;
        return identity;
    }

    /// <summary>Sets the negative eigenvalues of a symmetric matrix to zero, in place; true when there were any.</summary>
    internal static bool TruncateNegativeEigenvalues(double[] symmetric, int size)
    {
        SymmetricEigen eigen = SymmetricEigen.Of(symmetric, size);
        if (!Array.Exists(eigen.Eigenvalues, e => e < 0))
            return false;
        eigen.Rebuild(e => Math.Max(0, e)).CopyTo(symmetric, 0);
        return true;
    }
}
