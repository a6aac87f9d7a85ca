namespace RotationStudy.Statistics.Survival;

/// <summary>How events at the same time enter the partial likelihood of a proportional-hazards model.</summary>
public enum TiesMethod
{
    /// <summary>Tied events leave the risk set by equal shares one after the other (Efron 1977): close to the truth at little cost.</summary>
    Efron,

    /// <summary>Every tied event sees the full risk set (Breslow 1974): the simplest, pulled towards zero when ties are many.</summary>
    Breslow,

    /// <summary>
    /// Time is truly discrete: the tied events against all sets of as many rows from the risk set (Cox 1972, the
    /// conditional logistic likelihood). Coefficients are log odds ratios. Its score test is the log-rank test.
    /// </summary>
    ExactDiscrete,
}
