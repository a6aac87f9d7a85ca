using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Regression;

/// <summary>What one row adds to the log-likelihood of a generalized linear model, and its first two derivatives.</summary>
/// <remarks>
/// Families are value types, so that the loop over the rows is compiled for each of them. With eta the linear predictor:
/// score is dl/d eta, weight is -d2l/d eta2 or its expectation (never negative), and the returned log-likelihood leaves
/// out what depends on the outcome alone.
/// </remarks>
internal interface IGeneralizedLinearFamily
{
    /// <summary>Log-likelihood of an outcome y at a linear predictor, without its constant.</summary>
    double LogLikelihood(double y, double eta, out double score, out double weight);

    /// <summary>The mean of the outcome at a linear predictor.</summary>
    double Mean(double eta);

    /// <summary>The derivative of the mean with respect to the linear predictor.</summary>
    double MeanSlope(double eta);

    /// <summary>The variance of the outcome at a mean.</summary>
    double Variance(double mean);

    /// <summary>Log-likelihood of an outcome under a model that fits it exactly, without the same constant.</summary>
    double Saturated(double y);
}

/// <summary>Binary outcome, logit link: P(y = 1) = 1 / (1 + exp(-eta)).</summary>
internal readonly struct LogisticFamily : IGeneralizedLinearFamily
{
    public double LogLikelihood(double y, double eta, out double score, out double weight)
    {
        // exp(-|eta|) never overflows, and the smaller of the two probabilities keeps its digits.
        double e = Math.Exp(-Math.Abs(eta));
        double likely = 1 / (1 + e);
        double unlikely = e * likely;
        double one = eta >= 0 ? likely : unlikely;
        double zero = eta >= 0 ? unlikely : likely;
        score = (y * zero) - ((1 - y) * one);
        weight = likely * unlikely;
        return (y * eta) - Math.Max(eta, 0) - Math.Log(1 + e);
    }

    public double Mean(double eta)
    {
        double e = Math.Exp(-Math.Abs(eta));
        return (eta >= 0 ? 1 : e) / (1 + e);
    }

    public double MeanSlope(double eta)
    {
        double e = Math.Exp(-Math.Abs(eta));
        return e / ((1 + e) * (1 + e));
    }

    public double Variance(double mean) => mean * (1 - mean);

    public double Saturated(double y) => 0;
}

/// <summary>Binary outcome, log link: P(y = 1) = exp(eta), eta below zero; the weight is the expected information.</summary>
internal readonly struct LogBinomialFamily : IGeneralizedLinearFamily
{
    public double LogLikelihood(double y, double eta, out double score, out double weight)
    {
        if (eta >= 0)
        {
            score = weight = 0;
            return double.NegativeInfinity;
        }
        double mean = Math.Exp(eta);
        double rest = -StableMath.Expm1(eta);
        weight = mean / rest;
        score = y > 0.5 ? 1 : -weight;
        return y > 0.5 ? eta : Math.Log(rest);
    }

    public double Mean(double eta) => Math.Exp(eta);

    public double MeanSlope(double eta) => Math.Exp(eta);

    public double Variance(double mean) => mean * (1 - mean);

    public double Saturated(double y) => 0;
}

/// <summary>Count, log link: y is Poisson with mean exp(eta).</summary>
internal readonly struct PoissonFamily : IGeneralizedLinearFamily
{
    public double LogLikelihood(double y, double eta, out double score, out double weight)
    {
        weight = Math.Exp(eta);
        score = y - weight;
        return (y * eta) - weight;
    }

    public double Mean(double eta) => Math.Exp(eta);

    public double MeanSlope(double eta) => Math.Exp(eta);

    public double Variance(double mean) => mean;

    public double Saturated(double y) => y > 1 ? (y * Math.Log(y)) - y : -y;
}

/// <summary>
/// Count, log link: y has mean m = exp(eta) and variance m + alpha m^2. The weight is the observed information, with which
/// Newton's method converges fastest, or the expected one, which the variance with alpha held fixed rests on.
/// </summary>
internal readonly struct NegativeBinomialFamily(double alpha, bool expected) : IGeneralizedLinearFamily
{
    public double LogLikelihood(double y, double eta, out double score, out double weight)
    {
        double mean = Math.Exp(eta);
        double spread = 1 + (alpha * mean);
        score = (y - mean) / spread;
        weight = expected ? mean / spread : mean * (1 + (alpha * y)) / (spread * spread);
        return (y * eta) - ((y + (1 / alpha)) * StableMath.Log1p(alpha * mean));
    }

    public double Mean(double eta) => Math.Exp(eta);

    public double MeanSlope(double eta) => Math.Exp(eta);

    public double Variance(double mean) => mean * (1 + (alpha * mean));

    public double Saturated(double y) => y > 0 ? (y * Math.Log(y)) - ((y + (1 / alpha)) * StableMath.Log1p(alpha * y)) : 0;
}
