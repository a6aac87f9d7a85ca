using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Survival;

/// <summary>The scale on which an interval for a probability over time is symmetric.</summary>
public enum IntervalTransform
{
    /// <summary>log(-log p): stays within 0 and 1 and holds its level in small samples (Borgan and Liestøl 1990).</summary>
    LogLog,

    /// <summary>log p: the default of several libraries; the upper bound is cut at 1.</summary>
    Log,

    /// <summary>p itself, cut at 0 and 1 (Greenwood 1926).</summary>
    Plain,
}

/// <summary>Pointwise intervals for a probability between 0 and 1.</summary>
internal static class ProbabilityInterval
{
    /// <summary>Interval from an estimate and its standard error; 0 and 1 have no spread and are their own bounds.</summary>
    internal static ConfidenceInterval Of(double p, double standardError, IntervalTransform transform, double level)
    {
        if (p <= 0 || p >= 1 || standardError == 0)
            return new ConfidenceInterval(p, p, level);
        double half = StandardNormal.Quantile(0.5 + (level / 2)) * standardError;
        switch (transform)
        {
            case IntervalTransform.LogLog:
                double width = half / (p * Math.Abs(Math.Log(p)));
                return new ConfidenceInterval(Math.Pow(p, Math.Exp(width)), Math.Pow(p, Math.Exp(-width)), level);
            case IntervalTransform.Log:
                return new ConfidenceInterval(p * Math.Exp(-half / p), Math.Min(1, p * Math.Exp(half / p)), level);
            default:
                return new ConfidenceInterval(Math.Max(0, p - half), Math.Min(1, p + half), level);
        }
    }
}
