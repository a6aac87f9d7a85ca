using RotationStudy.Statistics;
using RotationStudy.Statistics.Pooling;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.CoverageStudies;

/// <summary>Intervals of the mean effect of several sources, and prediction intervals for a further one.</summary>
/// <remarks>Sources differ in size: standard errors run evenly from 0.15 to 0.5. The mean effect is 0.3. Persons are the number of sources here.</remarks>
internal static class PoolingCoverage
{
    private const double Mean = 0.3;

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        foreach (int sources in new[] { 3, 6, 12 })
        {
            foreach (double spread in new[] { 0, 0.1, 0.3 })
            {
                string words = FormattableString.Invariant($"{sources} sources, standard deviation between {spread}");
                studies.Add(new($"mean, restricted likelihood, adjusted; {words}", sources, Mean, r => Fit(r, sources, spread, BetweenVarianceMethod.RestrictedLikelihood, true).Mean));
                studies.Add(new($"mean, moments, normal; {words}", sources, Mean, r => Fit(r, sources, spread, BetweenVarianceMethod.DerSimonianLaird, false).Mean));
                studies.Add(new($"variance between, Q profile; {words}", sources, spread * spread, r => Between(Fit(r, sources, spread, BetweenVarianceMethod.RestrictedLikelihood, true))));
                studies.Add(new($"effect at a further source, prediction interval; {words}", sources, 0, r => Further(r, sources, spread)));
            }
        }
        return studies;
    }

    private static RandomEffectsFit Fit(Random random, int sources, double spread, BetweenVarianceMethod method, bool adjusted)
        => Fit(new RandomStream((ulong)random.NextInt64(), "pooling"), sources, spread, method, adjusted);

    private static RandomEffectsFit Fit(RandomStream random, int sources, double spread, BetweenVarianceMethod method, bool adjusted)
    {
        double[] errors = [.. Enumerable.Range(0, sources).Select(i => 0.15 + (0.35 * i / (sources - 1)))];
        double[] effects = [.. errors.Select(e => Mean + (spread * random.Normal()) + (e * random.Normal()))];
        return RandomEffects.Pool(effects, errors, new RandomEffectsOptions { Between = method, Adjusted = adjusted });
    }

    private static Estimate Between(RandomEffectsFit fit)
        => new("variance between", fit.BetweenVariance, double.NaN, double.PositiveInfinity, fit.BetweenVarianceInterval, 1);

    // The effect of the further source is taken off, so that the truth is zero.
    private static Estimate Further(Random random, int sources, double spread)
    {
        RandomStream stream = new((ulong)random.NextInt64(), "pooling");
        RandomEffectsFit fit = Fit(stream, sources, spread, BetweenVarianceMethod.RestrictedLikelihood, true);
        double further = Mean + (spread * stream.Normal());
        return new Estimate(
            "further source", fit.Mean.Value - further, double.NaN, double.PositiveInfinity,
            new ConfidenceInterval(fit.Prediction.Lower - further, fit.Prediction.Upper - further, fit.Prediction.Level), 1);
    }
}
