using RotationStudy.Statistics.Resampling;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Imputation;

/// <summary>Draws for numeric columns from a linear regression with a normal error and a random intercept per cluster.</summary>
/// <remarks>
/// y = x b + u + e, u normal with variance T per cluster, e with variance S. Gibbs sampler with vague priors (uniform for b,
/// 1/S for S, uniform on the root of T): b is drawn with u integrated out, then u, S and T. Variances are kept from one
/// call of a chain to the next, so the sampler goes on where it stopped; each call makes several sweeps. A cluster without an observed value takes its
/// intercept from the population. <b>Source.</b> Schafer JL, Yucel RM, J Comput Graph Stat 2002;11:437-457.
/// </remarks>
internal sealed class TwoLevelNormalDraw(Clusters clusters)
{
    private const int Sweeps = 10;

    // A variance that collapses stays above zero, so that the next draw exists.
    private const double SmallestVariance = 1e-300;

    private readonly double[] intercept = new double[clusters.Count];
    private readonly int[] size = new int[clusters.Count];
    private readonly double[] outcomeSum = new double[clusters.Count];
    private double between;
    private double within = double.NaN;

    internal void Draw(ConditionalDesign design, double[] target, double delta, RandomStream random)
    {
        int p = design.Columns;
        double[] products = new double[p];
        for (int k = 0; k < p; k++)
            products[k] = CrossProduct.Dot(design.Observed(k), design.Outcome);
        double[] sums = ClusterSums(design);
        if (double.IsNaN(within))
            StartVariances(design, products);
        double[] b = [];
        for (int sweep = 0; sweep < Sweeps; sweep++)
        {
            b = DrawCoefficients(design, products, sums, random);
            DrawIntercepts(sums, b, random);
            DrawVariances(design, b, random);
        }
        ReadOnlySpan<double> mean = design.Predict(b, ofMissing: true);
        ReadOnlySpan<int> of = clusters.ClusterOfRow;
        for (int i = 0; i < mean.Length; i++)
        {
            int row = design.MissingRows[i];
            target[row] = mean[i] + intercept[of[row]] + (Math.Sqrt(within) * random.Normal()) + delta;
        }
    }

    /// <summary>Sums of the columns per cluster over observed rows, cluster by cluster, p each; sizes and outcome sums beside them.</summary>
    private double[] ClusterSums(ConditionalDesign design)
    {
        int p = design.Columns;
        double[] sums = new double[clusters.Count * p];
        Array.Clear(size);
        Array.Clear(outcomeSum);
        ReadOnlySpan<int> of = clusters.ClusterOfRow;
        for (int i = 0; i < design.ObservedRows.Length; i++)
        {
            int g = of[design.ObservedRows[i]];
            size[g]++;
            outcomeSum[g] += design.Outcome[i];
        }
        for (int k = 0; k < p; k++)
        {
            ReadOnlySpan<double> column = design.Observed(k);
            for (int i = 0; i < column.Length; i++)
                sums[(of[design.ObservedRows[i]] * p) + k] += column[i];
        }
        return sums;
    }

    private void StartVariances(ConditionalDesign design, double[] products)
    {
        double[] b = design.Factor.Solve(products);
        ReadOnlySpan<double> fitted = design.Predict(b, ofMissing: false);
        double rss = 0;
        for (int i = 0; i < fitted.Length; i++)
            rss += (design.Outcome[i] - fitted[i]) * (design.Outcome[i] - fitted[i]);
        between = within = Math.Max(SmallestVariance, 0.5 * rss / fitted.Length);
    }

    private double[] DrawCoefficients(ConditionalDesign design, double[] products, double[] sums, RandomStream random)
    {
        int p = design.Columns;
        double[] precision = [.. design.Information];
        double[] right = [.. products];
        for (int g = 0; g < size.Length; g++)
        {
            if (size[g] == 0)
                continue;
            double shrink = between / (within + (size[g] * between));
            ReadOnlySpan<double> s = sums.AsSpan(g * p, p);
            for (int a = 0; a < p; a++)
            {
                CrossProduct.AddScaled(s, -shrink * s[a], precision.AsSpan(a * p, p));
                right[a] -= shrink * s[a] * outcomeSum[g];
            }
        }
        SmallCholesky factor = SmallCholesky.Factor(precision, p, [.. Enumerable.Range(0, p).Select(k => $"column {k}")]);
        factor.SolveInPlace(right);
        return PosteriorDraw.Normal(right, Math.Sqrt(within), factor.LowerFactor(), random);
    }

    private void DrawIntercepts(double[] sums, double[] b, RandomStream random)
    {
        int p = b.Length;
        for (int g = 0; g < size.Length; g++)
        {
            double left = outcomeSum[g] - CrossProduct.Dot(sums.AsSpan(g * p, p), b);
            double total = within + (size[g] * between);
            intercept[g] = (between * left / total) + (Math.Sqrt(within * between / total) * random.Normal());
        }
    }

    private void DrawVariances(ConditionalDesign design, double[] b, RandomStream random)
    {
        ReadOnlySpan<double> fitted = design.Predict(b, ofMissing: false);
        ReadOnlySpan<int> of = clusters.ClusterOfRow;
        double rss = 0;
        for (int i = 0; i < fitted.Length; i++)
        {
            double e = design.Outcome[i] - fitted[i] - intercept[of[design.ObservedRows[i]]];
            rss += e * e;
        }
        within = Math.Max(SmallestVariance, rss / random.ChiSquared(fitted.Length));
        double squares = CrossProduct.Dot(intercept, intercept);
        between = Math.Max(SmallestVariance, squares / random.ChiSquared(Math.Max(1, clusters.Count - 1)));
    }
}
