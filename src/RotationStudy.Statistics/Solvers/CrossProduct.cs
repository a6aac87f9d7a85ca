using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace RotationStudy.Statistics.Solvers;

/// <summary>The sums that every regression is made of, run along contiguous columns with vector instructions.</summary>
/// <remarks>
/// Rows are taken in blocks that stay in the first-level cache. Lanes are always four wide, whatever the processor, and
/// the order of additions is fixed, so sums are the same bytes whatever the width of its registers or number of cores.
/// </remarks>
internal static class CrossProduct
{
    private const int BlockRows = 256;

    /// <summary>X'WX, row by row into p squared values; an empty weight span means weights of one.</summary>
    internal static void Weighted(DesignMatrix x, ReadOnlySpan<double> weights, Span<double> result)
        => Weighted(x.Values, x.Rows, x.Columns, weights, result);

    /// <summary>As for a design, for n by p values column after column.</summary>
    internal static void Weighted(ReadOnlySpan<double> x, int n, int p, ReadOnlySpan<double> weights, Span<double> result)
    {
        result.Clear();
        double[] weighted = new double[BlockRows];
        for (int from = 0; from < n; from += BlockRows)
        {
            int length = Math.Min(BlockRows, n - from);
            for (int i = 0; i < p; i++)
            {
                ReadOnlySpan<double> left = x.Slice((i * n) + from, length);
                if (!weights.IsEmpty)
                {
                    Multiply(left, weights.Slice(from, length), weighted);
                    left = weighted.AsSpan(0, length);
                }
                for (int j = 0; j <= i; j++)
                    result[(i * p) + j] += Dot(left, x.Slice((j * n) + from, length));
            }
        }
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < i; j++)
                result[(j * p) + i] = result[(i * p) + j];
        }
    }

    /// <summary>X'v into p values.</summary>
    internal static void WithVector(DesignMatrix x, ReadOnlySpan<double> v, Span<double> result)
    {
        for (int j = 0; j < x.Columns; j++)
            result[j] = Dot(x.Column(j), v);
    }

    /// <summary>The linear predictor X b plus an offset (which may be empty), into n values.</summary>
    internal static void LinearPredictor(DesignMatrix x, ReadOnlySpan<double> b, ReadOnlySpan<double> offset, Span<double> result)
    {
        if (offset.IsEmpty)
            result.Clear();
        else
            offset.CopyTo(result);
        for (int j = 0; j < x.Columns; j++)
            AddScaled(x.Column(j), b[j], result);
    }

    /// <summary>Sum of products.</summary>
    internal static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        ReadOnlySpan<Vector256<double>> left = MemoryMarshal.Cast<double, Vector256<double>>(a);
        ReadOnlySpan<Vector256<double>> right = MemoryMarshal.Cast<double, Vector256<double>>(b)[..left.Length];
        Vector256<double> even = Vector256<double>.Zero;
        Vector256<double> odd = Vector256<double>.Zero;
        int v = 0;
        for (; v < left.Length - 1; v += 2)
        {
            even += left[v] * right[v];
            odd += left[v + 1] * right[v + 1];
        }
        if (v < left.Length)
            even += left[v] * right[v];
        double sum = Vector256.Sum(even + odd);
        for (int i = left.Length * Vector256<double>.Count; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }

    private static void Multiply(ReadOnlySpan<double> a, ReadOnlySpan<double> b, Span<double> result)
    {
        ReadOnlySpan<Vector256<double>> left = MemoryMarshal.Cast<double, Vector256<double>>(a);
        ReadOnlySpan<Vector256<double>> right = MemoryMarshal.Cast<double, Vector256<double>>(b)[..left.Length];
        Span<Vector256<double>> target = MemoryMarshal.Cast<double, Vector256<double>>(result)[..left.Length];
        for (int v = 0; v < left.Length; v++)
            target[v] = left[v] * right[v];
        for (int i = left.Length * Vector256<double>.Count; i < a.Length; i++)
            result[i] = a[i] * b[i];
    }

    /// <summary>Adds a multiple of one column to a running result.</summary>
    internal static void AddScaled(ReadOnlySpan<double> a, double factor, Span<double> result)
    {
        Vector256<double> scale = Vector256.Create(factor);
        ReadOnlySpan<Vector256<double>> source = MemoryMarshal.Cast<double, Vector256<double>>(a);
        Span<Vector256<double>> target = MemoryMarshal.Cast<double, Vector256<double>>(result)[..source.Length];
        for (int v = 0; v < source.Length; v++)
            target[v] += scale * source[v];
        for (int i = source.Length * Vector256<double>.Count; i < a.Length; i++)
            result[i] += factor * a[i];
    }
}
