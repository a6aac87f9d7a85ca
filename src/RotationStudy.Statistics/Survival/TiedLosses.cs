namespace RotationStudy.Statistics.Survival;

/// <summary>Which losses the estimated censoring weights of a Fine-Gray fit depend on when a loss and a censoring share a time.</summary>
/// <remarks>Without such ties the two are the same; with heavy ties standard errors differ by about 1 in 1000.</remarks>
public enum TiedLosses
{
    /// <summary>
    /// A loss counts at later censoring times only, and events from the censoring time on count: the indicator s &gt;= u &gt; X as printed
    /// by Fine and Gray (1999, section 3), and the convention of the reference library.
    /// </summary>
    AsPublished,

    /// <summary>
    /// A loss counts at its own time too, and events count after the censoring time only: the derivative of the estimate with respect
    /// to the weight of a row, given that G(t-)/G(X-) holds the censorings at X.
    /// </summary>
    MeetTheCensoring,
}
