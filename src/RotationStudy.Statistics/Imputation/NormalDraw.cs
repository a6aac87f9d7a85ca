using RotationStudy.Statistics.Resampling;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Imputation;

/// <summary>Draws for numeric columns from the linear regression with the usual vague prior: error variance RSS / chi-square(n - p), coefficients normal given it.</summary>
internal static class NormalDraw
{
    /// <summary>Predictive mean matching, type 1.</summary>
    internal static void Matched(ConditionalDesign design, double[] target, int donors, double delta, RandomStream random)
    {
        (double[] estimate, double[] draw, _) = Coefficients(design, random);
        double[] keys = design.Predict(estimate, ofMissing: false).ToArray();
        double[] donated = design.Outcome.ToArray();
        Array.Sort(keys, donated);
        ReadOnlySpan<double> wanted = design.Predict(draw, ofMissing: true);
        for (int i = 0; i < wanted.Length; i++)
            target[design.MissingRows[i]] = donated[DonorMatching.Pick(keys, wanted[i], Math.Min(donors, keys.Length), random)] + delta;
    }

    /// <summary>Prediction from drawn coefficients plus a normal error.</summary>
    internal static void WithError(ConditionalDesign design, double[] target, double delta, RandomStream random)
    {
        (_, double[] draw, double sigma) = Coefficients(design, random);
        ReadOnlySpan<double> mean = design.Predict(draw, ofMissing: true);
        for (int i = 0; i < mean.Length; i++)
            target[design.MissingRows[i]] = mean[i] + (sigma * random.Normal()) + delta;
    }

    private static (double[] Estimate, double[] Draw, double Sigma) Coefficients(ConditionalDesign design, RandomStream random)
    {
        double[] b = new double[design.Columns];
        for (int k = 0; k < b.Length; k++)
            b[k] = CrossProduct.Dot(design.Observed(k), design.Outcome);
        design.Factor.SolveInPlace(b);
        ReadOnlySpan<double> fitted = design.Predict(b, ofMissing: false);
        double rss = 0;
        for (int i = 0; i < fitted.Length; i++)
            rss += (design.Outcome[i] - fitted[i]) * (design.Outcome[i] - fitted[i]);
        double sigma = Math.Sqrt(rss / random.ChiSquared(fitted.Length - b.Length));
        return (b, PosteriorDraw.Normal(b, sigma, design.Factor.LowerFactor(), random), sigma);
    }
}
