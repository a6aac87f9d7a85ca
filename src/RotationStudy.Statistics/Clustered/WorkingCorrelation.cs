namespace RotationStudy.Statistics.Clustered;

/// <summary>The working correlation of rows of one cluster.</summary>
public enum WorkingCorrelation
{
    /// <summary>None: ordinary regression with cluster-robust variance.</summary>
    Independence,

    /// <summary>The same between any two rows: the two sides of a person.</summary>
    Exchangeable,

    /// <summary>First-order autoregressive, alpha to the power of the distance in time: repeated measurements.</summary>
    Autoregressive,
}

/// <summary>From which pairs of rows an autoregressive correlation is estimated.</summary>
public enum AutoregressivePairs
{
    /// <summary>Pairs one step apart: the moment estimator of Liang &amp; Zeger (1986).</summary>
    Adjacent,

    /// <summary>All pairs, by least squares of the products of residuals on alpha to the power of their distance.</summary>
    All,
}
