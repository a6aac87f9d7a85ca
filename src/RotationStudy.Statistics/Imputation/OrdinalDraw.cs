using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Imputation;

/// <summary>Draws for ordered categories from a proportional-odds regression; two categories are the logistic regression.</summary>
/// <remarks>
/// P(category at most t) = F(theta_t - x b), F logistic. Parameters are drawn from the normal approximation at the posterior
/// mode; the prior are pseudo-rows one standard deviation either side of the mean of each predictor, in each category,
/// of total weight one per parameter (White, Daniel and Royston 2010), so that separation leaves a finite mode.
/// </remarks>
internal static class OrdinalDraw
{
    private const int MaximumRedraws = 100;

    internal static void Draw(ConditionalDesign design, double[] target, double[] categories, double delta, RandomStream random)
    {
        OrdinalLikelihood likelihood = OrdinalLikelihood.From(design, categories);
        double[] mode = likelihood.Maximize();
        double[] parameters = Posterior(likelihood, mode, categories.Length - 1, random);
        int thresholds = categories.Length - 1;
        double[] b = new double[design.Columns];
        parameters.AsSpan(thresholds).CopyTo(b.AsSpan(1));
        b[0] = delta;
        ReadOnlySpan<double> predictor = design.Predict(b, ofMissing: true);
        for (int i = 0; i < predictor.Length; i++)
        {
            double u = random.Uniform();
            int t = 0;
            while (t < thresholds && u >= OrdinalLikelihood.Logistic(parameters[t] - predictor[i]))
                t++;
            target[design.MissingRows[i]] = categories[t];
        }
    }

    /// <summary>A draw whose thresholds are in order; sorted where a hundred draws gave none.</summary>
    private static double[] Posterior(OrdinalLikelihood likelihood, double[] mode, int thresholds, RandomStream random)
    {
        double[] draw = mode;
        for (int attempt = 0; attempt < MaximumRedraws; attempt++)
        {
            draw = PosteriorDraw.Normal(mode, 1, likelihood.LowerFactor, random);
            bool ordered = true;
            for (int t = 1; t < thresholds; t++)
                ordered &= draw[t] > draw[t - 1];
            if (ordered)
                return draw;
        }
        Array.Sort(draw, 0, thresholds);
        return draw;
    }
}
