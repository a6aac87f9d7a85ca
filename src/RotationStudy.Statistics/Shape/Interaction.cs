namespace RotationStudy.Statistics.Shape;

/// <summary>Product columns: whether the effect of one quantity differs with another.</summary>
/// <remarks>
/// The product belongs beside both its parts; with curved effects every column of the one is multiplied with every
/// column of the other. The test of interaction is the joint Wald test of all products.
/// </remarks>
public static class Interaction
{
    /// <summary>All products of the columns of two quantities, the columns of the second running fastest.</summary>
    /// <exception cref="InvalidInputError">Columns of unequal length.</exception>
    public static IReadOnlyList<(string Name, IReadOnlyList<double> Values)> Columns(
        IReadOnlyList<(string Name, IReadOnlyList<double> Values)> first,
        IReadOnlyList<(string Name, IReadOnlyList<double> Values)> second)
    {
        List<(string, IReadOnlyList<double>)> products = [];
        foreach ((string left, IReadOnlyList<double> a) in first)
        {
            foreach ((string right, IReadOnlyList<double> b) in second)
            {
                if (a.Count != b.Count)
                    throw new InvalidInputError(
                        $"'{left}' has {a.Count} rows and '{right}' has {b.Count}",
                        "Take both from one table.",
                        column: right);
                double[] product = new double[a.Count];
                for (int i = 0; i < product.Length; i++)
                    product[i] = a[i] * b[i];
                products.Add(($"{left} × {right}", product));
            }
        }
        return products;
    }
}
