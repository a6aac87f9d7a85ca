namespace RotationStudy.Statistics.Agreement;

/// <summary>The checks and sums of two measurements of the same subjects.</summary>
internal sealed class MeasurementPairs
{
    private MeasurementPairs(double[] first, double[] second)
    {
        First = first;
        Second = second;
        Count = first.Length;
        MeanFirst = first.Average();
        MeanSecond = second.Average();
        for (int i = 0; i < Count; i++)
        {
            double a = first[i] - MeanFirst;
            double b = second[i] - MeanSecond;
            SquaresFirst += a * a;
            SquaresSecond += b * b;
            Products += a * b;
        }
    }

    internal double[] First { get; }

    internal double[] Second { get; }

    internal int Count { get; }

    internal double MeanFirst { get; }

    internal double MeanSecond { get; }

    /// <summary>Sum of squared deviations of the first.</summary>
    internal double SquaresFirst { get; }

    /// <summary>Sum of squared deviations of the second.</summary>
    internal double SquaresSecond { get; }

    /// <summary>Sum of products of deviations.</summary>
    internal double Products { get; }

    internal static MeasurementPairs From(IReadOnlyList<double> first, IReadOnlyList<double> second, int minimum)
    {
        double[] a = [.. first];
        double[] b = [.. second];
        Require.SameLength(b.Length, a.Length, "second measurement");
        Require.Finite(a, "first measurement");
        Require.Finite(b, "second measurement");
        if (a.Length < minimum)
            throw new TooFewDataError($"{a.Length} pairs of measurements are too few", $"Give {minimum} pairs at the very least.");
        return new MeasurementPairs(a, b);
    }

    internal MeasurementPairs Without(int row)
        => new([.. First.Where((_, i) => i != row)], [.. Second.Where((_, i) => i != row)]);
}
