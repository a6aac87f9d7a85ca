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

    private SatterthwaiteMoments(int p, int contrasts, bool pairs)
    {
        this.p = p;
        Contrasts = contrasts;
        modelBased = new double[contrasts];
        int kept = pairs ? contrasts * contrasts : contrasts;
        mean = new double[kept];
        variance = new double[kept];
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
        double[] df = new double[count];
        for (int s = 0; s < count; s++)
            {
            bool carried = moments.mean[s] > Absorbed * moments.modelBased[s];
            df[s] = carried ? 2 * moments.mean[s] * moments.mean[s] / moments.variance[s] : 0;
        }
        return df;
    }

    /// <summary>
    /// Sum over all pairs of the variance of D[s,t], for contrasts scaled so that D has expectation I: the quantity
    /// that sets the degrees of freedom of Hotelling's T^2.
    /// </summary>
    internal static double TotalVariance(WorkingLeastSquares fit, ClusterAdjustment adjustment, int clusters, double[] contrasts, int count)
    {
        SatterthwaiteMoments moments = Accumulate(fit, adjustment, clusters, contrasts, count, pairs: true);
        double total = 0;
        foreach (double v in moments.variance)
            total += v;
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
        double[] q = new double[moments.mean.Length * p * p];
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
            moments.Add(g, z, m, q, pairs);
        }
        moments.Close(q);
        return moments;
    }

    private void Add(double[] g, double[] z, int m, double[] q, bool pairs)
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
                    CrossProduct.AddScaled(zt, zs[i], q.AsSpan(((at * p) + i) * p, p));
            }
        }
    }

    // Adds |Q|^2 + tr(Q Q), the double sums over clusters of the products of z.
    private void Close(double[] q)
    {
        for (int at = 0; at < mean.Length; at++)
        {
            double sum = 0;
            for (int i = 0; i < p; i++)
            {
                for (int j = 0; j < p; j++)
                {
                    double value = q[(((at * p) + i) * p) + j];
                    sum += value * (value + q[(((at * p) + j) * p) + i]);
                }
            }
            variance[at] += sum;
        }
    }
}
