namespace RotationStudy.Statistics.GroupComparison;

/// <summary>The k-th smallest of all pairwise differences or means, found without making them.</summary>
/// <remarks>
/// The answer is searched among the floating-point numbers themselves, bit by bit; how many pairs lie at or below a number is
/// counted by two markers that run along the sorted values. The cost is 64 counts of linear time, and the answer is exact.
/// </remarks>
internal static class PairOrderStatistic
{
    /// <summary>The k-th smallest (from 1) of x_i - y_j, both sorted increasingly.</summary>
    internal static double Difference(double[] x, double[] y, long k) => Search(v => CountDifferences(x, y, v), k);

    /// <summary>The k-th smallest (from 1) of (x_i + x_j) / 2 over i at or before j, x sorted increasingly.</summary>
    internal static double Mean(double[] x, long k) => Search(v => CountMeans(x, v), k);

    private static long CountDifferences(double[] x, double[] y, double v)
    {
        long count = 0;
        int j = 0;
        foreach (double value in x)
        {
            while (j < y.Length && value - y[j] > v)
                j++;
            count += y.Length - j;
        }
        return count;
    }

    private static long CountMeans(double[] x, double v)
    {
        long count = 0;
        int j = x.Length - 1;
        for (int i = 0; i < x.Length && i <= j; i++)
        {
            while (j >= i && (x[i] + x[j]) / 2 > v)
                j--;
            count += j - i + 1;
        }
        return count;
    }

    private static double Search(Func<double, long> countAtOrBelow, long k)
    {
        ulong low = Key(double.MinValue);
        ulong high = Key(double.MaxValue);
        while (low < high)
        {
            ulong middle = low + ((high - low) / 2);
            if (countAtOrBelow(Number(middle)) >= k)
                high = middle;
            else
                low = middle + 1;
        }
        return Number(low);
    }

    // An order-preserving map between doubles and unsigned integers.
    private static ulong Key(double value)
    {
        ulong bits = BitConverter.DoubleToUInt64Bits(value);
        return (bits >> 63) == 0 ? bits | (1UL << 63) : ~bits;
    }

    private static double Number(ulong key) => BitConverter.UInt64BitsToDouble((key >> 63) == 1 ? key & ~(1UL << 63) : ~key);
}
