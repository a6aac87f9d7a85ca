namespace RotationStudy.Statistics.Clustered;

/// <summary>Estimates a working correlation from residuals and takes it out of columns, without any k by k matrix.</summary>
/// <remarks>
/// Columns are multiplied by a root W of the inverse correlation, W'W = R^-1. Exchangeable, cluster size k:
/// W = (I - f J) / sqrt(1 - a), f = (1 - sqrt((1 - a) / (1 + (k - 1) a))) / k, J a matrix of ones. Autoregressive: each row
/// less rho times the row before it, over sqrt(1 - rho2), rho = a to the power of their distance in time.
/// </remarks>
internal sealed class CorrelatedRows
{
    private readonly WorkingCorrelation structure;
    private readonly Clusters clusters;
    private readonly double[] sums;
    private readonly int[] previous = [];
    private readonly int[] gap = [];
    private readonly int[] times;

    internal CorrelatedRows(WorkingCorrelation structure, Clusters clusters, IReadOnlyList<int>? times)
    {
        this.structure = structure;
        this.clusters = clusters;
        sums = new double[clusters.Count];
        this.times = new int[clusters.Rows];
        if (structure != WorkingCorrelation.Autoregressive)
            return;
        previous = new int[clusters.Rows];
        gap = new int[clusters.Rows];
        for (int c = 0; c < clusters.Count; c++)
            LinkRows(clusters.Members(c), times);
    }

    /// <summary>The range in which the correlation matrix of the largest cluster is positive definite.</summary>
    internal (double Lower, double Upper) ValidRange
        => structure == WorkingCorrelation.Exchangeable ? (-1.0 / Math.Max(1, clusters.LargestSize - 1), 1) : (-1, 1);

    /// <summary>Multiplies a column by W.</summary>
    internal void Decorrelate(double alpha, ReadOnlySpan<double> column, Span<double> result)
    {
        switch (structure)
        {
            case WorkingCorrelation.Exchangeable:
                DecorrelateExchangeable(alpha, column, result);
                break;
            case WorkingCorrelation.Autoregressive:
                for (int i = 0; i < column.Length; i++)
                {
                    double rho = previous[i] < 0 ? 0 : gap[i] == 1 ? alpha : Math.Pow(alpha, gap[i]);
                    result[i] = previous[i] < 0 ? column[i] : (column[i] - (rho * column[previous[i]])) / Math.Sqrt(1 - (rho * rho));
                }
                break;
            default:
                column.CopyTo(result);
                break;
        }
    }

    /// <summary>The correlation of Pearson residuals whose scale is known; less is taken off the number of pairs.</summary>
    internal double Estimate(ReadOnlySpan<double> residuals, double scale, int less, AutoregressivePairs pairs) => structure switch
    {
        WorkingCorrelation.Exchangeable => Exchangeable(residuals, scale, less),
        WorkingCorrelation.Autoregressive when pairs == AutoregressivePairs.Adjacent => Adjacent(residuals, scale, less),
        WorkingCorrelation.Autoregressive => AllPairs(residuals, scale),
        _ => 0,
    };

    private void DecorrelateExchangeable(double alpha, ReadOnlySpan<double> column, Span<double> result)
    {
        ReadOnlySpan<int> of = clusters.ClusterOfRow;
        Array.Clear(sums);
        for (int i = 0; i < column.Length; i++)
            sums[of[i]] += column[i];
        for (int c = 0; c < sums.Length; c++)
        {
            int k = clusters.Members(c).Length;
            sums[c] *= (1 - Math.Sqrt((1 - alpha) / (1 + ((k - 1) * alpha)))) / k;
        }
        double root = 1 / Math.Sqrt(1 - alpha);
        for (int i = 0; i < column.Length; i++)
            result[i] = (column[i] - sums[of[i]]) * root;
    }

    // Sum over pairs = ((sum of residuals)^2 - sum of squares) / 2, cluster by cluster.
    private double Exchangeable(ReadOnlySpan<double> residuals, double scale, int less)
    {
        double products = 0;
        double pairs = 0;
        for (int c = 0; c < clusters.Count; c++)
        {
            double sum = 0;
            double squares = 0;
            ReadOnlySpan<int> members = clusters.Members(c);
            foreach (int i in members)
            {
                sum += residuals[i];
                squares += residuals[i] * residuals[i];
            }
            products += 0.5 * ((sum * sum) - squares);
            pairs += 0.5 * members.Length * (members.Length - 1.0);
        }
        return products / (Pairs(pairs, less) * scale);
    }

    private double Adjacent(ReadOnlySpan<double> residuals, double scale, int less)
    {
        double products = 0;
        double pairs = 0;
        for (int i = 0; i < previous.Length; i++)
        {
            if (previous[i] < 0 || gap[i] != 1)
                continue;
            products += residuals[i] * residuals[previous[i]];
            pairs++;
        }
        return products / (Pairs(pairs, less) * scale);
    }

    // Newton on sum over distances d of d a^(d-1) (Z_d - N_d a^d) = 0, from the adjacent pairs' moment.
    private double AllPairs(ReadOnlySpan<double> residuals, double scale)
    {
        SortedDictionary<int, (double Products, double Pairs)> byDistance = [];
        for (int c = 0; c < clusters.Count; c++)
        {
            ReadOnlySpan<int> members = clusters.Members(c);
            for (int i = 0; i < members.Length; i++)
            {
                for (int j = 0; j < i; j++)
                {
                    int d = Math.Abs(times[members[i]] - times[members[j]]);
                    (double products, double pairs) = byDistance.GetValueOrDefault(d);
                    byDistance[d] = (products + (residuals[members[i]] * residuals[members[j]] / scale), pairs + 1);
                }
            }
        }
        double alpha = Math.Clamp(Adjacent(residuals, scale, 0), -0.95, 0.95);
        for (int iteration = 0; iteration < 100; iteration++)
        {
            double score = 0;
            double information = 0;
            foreach ((int d, (double products, double pairs)) in byDistance)
            {
                double slope = d * Math.Pow(alpha, d - 1);
                score += slope * (products - (pairs * Math.Pow(alpha, d)));
                information += pairs * slope * slope;
            }
            double step = score / information;
            alpha += step;
            if (Math.Abs(step) < 1e-14 || Math.Abs(alpha) >= 1)
                break;
        }
        return alpha;
    }

    private static double Pairs(double pairs, int less)
        => pairs > less ? pairs - less : throw new TooFewDataError($"{pairs} pairs of rows within clusters cannot estimate a correlation beside {less} coefficients", "Use independence as working correlation.");

    private void LinkRows(ReadOnlySpan<int> members, IReadOnlyList<int>? given)
    {
        int[] order = members.ToArray();
        for (int j = 0; j < order.Length; j++)
            times[order[j]] = given is null ? j : given[order[j]];
        Array.Sort(order, (a, b) => times[a] != times[b] ? times[a].CompareTo(times[b]) : a.CompareTo(b));
        for (int j = 0; j < order.Length; j++)
        {
            previous[order[j]] = j == 0 ? -1 : order[j - 1];
            gap[order[j]] = j == 0 ? 0 : times[order[j]] - times[order[j - 1]];
            if (j > 0 && gap[order[j]] == 0)
                throw new InvalidInputError($"rows {order[j - 1]} and {order[j]} of one cluster have the same time", "Give each row of a cluster a time of its own.", order[j], "times");
        }
    }
}
