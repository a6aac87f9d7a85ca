using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>
/// Mean and variance of a CR2 variance estimate under the working model, from which its degrees of freedom follow.
/// </summary>
/// <remarks>
/// For contrasts s of the coefficients the estimate D[s,t] is the sum over clusters of (p_s'u)(p_t'u), quadratic in
/// independent errors u. On the whitened scale cluster i adds g_s = K'Y d_s (m values) and z_s = Y'g_s (p values), with
/// d_s the whitened contrast, and the error covariance between the terms of clusters i and j is P[s,t](i,j) = (i = j)
/// g_s'g_t - z_si'z_tj. All double sums over clusters then reduce to sums over clusters of p by p matrices Q[s,t] = sum
/// z_s z_t', so that nothing as large as G by G is stored.
/// <para><b>Sources</b>: Bell RM, McCaffrey DF. Survey Methodology 2002;28:169-181 (the degrees of freedom 2 E^2 /
/// Var); Tipton E, Pustejovsky JE. J Educ Behav Stat 2015;40:604-634 (the variance of D and Hotelling's T^2
/// approximation). The p by p form is derived here.</para>
/// </remarks>
internal sealed class SatterthwaiteMoments
{
    // An expectation under this share of the model-based variance is rounding noise: no cluster but absorbed ones carries the contrast.
    private const double Absorbed = 1e-8;

    private readonly int p;
    private readonly double[] modelBased;
    private readonly double[] mean;
    private readonly double[] variance;
    private readonly double[] products;

    private SatterthwaiteMoments(int p, int contrasts, bool pairs)
    {
        this.p = p;
        Contrasts = contrasts;
        modelBased = new double[contrasts];
        int kept = pairs ? contrasts * contrasts : contrasts;
        mean = new double[kept];
        variance = new double[kept];
        products = new double[kept * p * p];
    }

    private int Contrasts { get; }

    /// <summary>Degrees of freedom of each contrast by itself: 2 E^2 / Var; zero where only absorbed clusters carry it.</summary>
    internal static double[] DegreesOfFreedom(
        WorkingLeastSquares fit,
        ClusterAdjustment adjustment,
        int clusters,
        double[] contrasts,
        int count)
    {
        SatterthwaiteMoments moments = Accumulate(fit, adjustment, clusters, contrasts, count, pairs: false);
        return DegreesOfFreedom(new SatterthwaiteSums(moments.mean, moments.variance, moments.products), moments.modelBased);
    }

    /// <summary>As above, from sums over all clusters and the model-based variance of each contrast.</summary>
    internal static double[] DegreesOfFreedom(SatterthwaiteSums sums, double[] modelBased)
    {
        double[] df = new double[modelBased.Length];
        int p = (int)Math.Sqrt((sums.Products.Length / (double)df.Length) + 0.5);
        for (int s = 0; s < df.Length; s++)
        {
            double variance = sums.Variance[s] + OverPairs(sums.Products.AsSpan(s * p * p, p * p), p);
            df[s] = sums.Mean[s] > Absorbed * modelBased[s] ? 2 * sums.Mean[s] * sums.Mean[s] / variance : 0;
        }
        return df;
    }

    /// <summary>The sums of each coefficient over some of the clusters.</summary>
    internal static SatterthwaiteSums SumsOfCoefficients(WorkingLeastSquares fit, ClusterAdjustment adjustment, int clusters)
    {
        int p = fit.Design.Columns;
        SatterthwaiteMoments moments = Accumulate(fit, adjustment, clusters, SmallMatrix.Identity(p), p, pairs: false);
        return new SatterthwaiteSums(moments.mean, moments.variance, moments.products);
    }

    /// <summary>
    /// Sum over all pairs of the variance of D[s,t], for contrasts scaled so that D has expectation I: the quantity
    /// that sets the degrees of freedom of Hotelling's T^2.
    /// </summary>
    internal static double TotalVariance(WorkingLeastSquares fit, ClusterAdjustment adjustment, int clusters, double[] contrasts, int count)
    {
        SatterthwaiteMoments moments = Accumulate(fit, adjustment, clusters, contrasts, count, pairs: true);
        double total = 0;
        for (int at = 0; at < moments.variance.Length; at++)
            total += moments.variance[at] + OverPairs(moments.products.AsSpan(at * moments.p * moments.p, moments.p * moments.p), moments.p);
        return total;
    }

    private static SatterthwaiteMoments Accumulate(
        WorkingLeastSquares fit, ClusterAdjustment adjustment, int clusters, double[] contrasts, int count, bool pairs)
    {
        int p = fit.Design.Columns;
        SatterthwaiteMoments moments = new(p, count, pairs);
        double[] d = new double[count * p];
        for (int s = 0; s < count; s++)
        {
            fit.WhitenContrast(contrasts.AsSpan(s * p, p), d.AsSpan(s * p, p));
            moments.modelBased[s] = CrossProduct.Dot(d.AsSpan(s * p, p), d.AsSpan(s * p, p));
        }
        double[] g = [];
        double[] z = new double[count * p];
        double[] plain = [];
        for (int c = 0; c < clusters; c++)
        {
            adjustment.Load(c);
            int m = adjustment.Size;
            if (plain.Length < m)
                (plain, g) = (new double[m], new double[count * m]);
            Array.Clear(z);
            for (int s = 0; s < count; s++)
            {
                for (int i = 0; i < m; i++)
                    plain[i] = CrossProduct.Dot(adjustment.WhitenedRow(i), d.AsSpan(s * p, p));
                Span<double> adjusted = g.AsSpan(s * m, m);
                adjustment.Apply(plain.AsSpan(0, m), adjusted, transposed: true);
                for (int i = 0; i < m; i++)
                    CrossProduct.AddScaled(adjustment.WhitenedRow(i), adjusted[i], z.AsSpan(s * p, p));
            }
            moments.Add(g, z, m, pairs);
        }
        return moments;
    }

    private void Add(double[] g, double[] z, int m, bool pairs)
    {
        for (int s = 0; s < Contrasts; s++)
        {
            for (int t = pairs ? 0 : s; t < (pairs ? Contrasts : s + 1); t++)
            {
                int at = pairs ? (s * Contrasts) + t : s;
                ReadOnlySpan<double> zs = z.AsSpan(s * p, p);
                ReadOnlySpan<double> zt = z.AsSpan(t * p, p);
                double a = CrossProduct.Dot(g.AsSpan(s * m, m), g.AsSpan(t * m, m));
                double product = CrossProduct.Dot(zs, zt);
                mean[at] += a - product;
                variance[at] += (a * a) - (2 * a * product);
                double ass = a;
                double att = a;
                double pss = product;
                double ptt = product;
                if (s != t)
                {
                    ass = CrossProduct.Dot(g.AsSpan(s * m, m), g.AsSpan(s * m, m));
                    att = CrossProduct.Dot(g.AsSpan(t * m, m), g.AsSpan(t * m, m));
                    pss = CrossProduct.Dot(zs, zs);
                    ptt = CrossProduct.Dot(zt, zt);
                }
                variance[at] += (ass * att) - (ass * ptt) - (att * pss);
                for (int i = 0; i < p; i++)
                    CrossProduct.AddScaled(zt, zs[i], products.AsSpan(((at * p) + i) * p, p));
            }
        }
    }

    // |Q|^2 + tr(Q Q), the double sums over clusters of the products of z.
    private static double OverPairs(ReadOnlySpan<double> q, int p)
    {
        double sum = 0;
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < p; j++)
                sum += q[(i * p) + j] * (q[(i * p) + j] + q[(j * p) + i]);
        }
        return sum;
    }
}
