namespace RotationStudy.Statistics.Clustered;

/// <summary>Kind of outcome of a marginal model, with its canonical link.</summary>
public enum MarginalFamily
{
    /// <summary>A number: identity link, constant variance.</summary>
    Gaussian,

    /// <summary>Zero or one: logit link, variance mu (1 - mu).</summary>
    Binomial,

    /// <summary>A count: log link, variance mu; log follow-up as offset.</summary>
    Poisson,
}

/// <summary>Mean, variance and quasi-likelihood of each family.</summary>
internal static class MarginalFamilies
{
    /// <summary>Fills means and variances (which are also the slopes of the mean, the links being canonical).</summary>
    internal static void MeanAndVariance(MarginalFamily family, ReadOnlySpan<double> predictor, Span<double> mean, Span<double> variance)
    {
        for (int i = 0; i < predictor.Length; i++)
        {
            switch (family)
            {
                case MarginalFamily.Gaussian:
                    mean[i] = predictor[i];
                    variance[i] = 1;
                    break;
                case MarginalFamily.Binomial:
                    double small = Math.Exp(-Math.Abs(predictor[i]));
                    mean[i] = predictor[i] >= 0 ? 1 / (1 + small) : small / (1 + small);
                    variance[i] = small / ((1 + small) * (1 + small));
                    break;
                default:
                    mean[i] = variance[i] = Math.Exp(predictor[i]);
                    break;
            }
        }
    }

    /// <summary>The quasi-likelihood under independence with a scale of one, without terms that hold the outcome only.</summary>
    internal static double QuasiLikelihood(MarginalFamily family, ReadOnlySpan<double> outcome, ReadOnlySpan<double> predictor, ReadOnlySpan<double> mean)
    {
        double sum = 0;
        for (int i = 0; i < outcome.Length; i++)
        {
            sum += family switch
            {
                MarginalFamily.Gaussian => -0.5 * (outcome[i] - mean[i]) * (outcome[i] - mean[i]),
                MarginalFamily.Binomial => (outcome[i] * predictor[i]) - Math.Max(predictor[i], 0) - Math.Log(1 + Math.Exp(-Math.Abs(predictor[i]))),
                _ => (outcome[i] * predictor[i]) - mean[i],
            };
        }
        return sum;
    }

    /// <summary>A first predictor close to the outcome, from which the iteration starts.</summary>
    internal static double StartingMean(MarginalFamily family, double outcome) => family switch
    {
        MarginalFamily.Gaussian => outcome,
        MarginalFamily.Binomial => Math.Log((outcome + 0.5) / (1.5 - outcome)),
        _ => Math.Log(outcome + 0.1),
    };

    /// <exception cref="InvalidInputError">An outcome that the family does not have.</exception>
    internal static void Check(MarginalFamily family, ReadOnlySpan<double> outcome)
    {
        for (int i = 0; i < outcome.Length; i++)
        {
            bool valid = family switch
            {
                MarginalFamily.Binomial => outcome[i] is 0 or 1,
                MarginalFamily.Poisson => outcome[i] >= 0,
                _ => true,
            };
            if (!valid)
                throw new InvalidInputError($"the outcome holds {outcome[i]} in row {i}", family == MarginalFamily.Binomial ? "A binary outcome is 0 or 1." : "A count is zero or more.", i, "outcome");
        }
    }
}
