namespace RotationStudy.Statistics.Regression;

/// <summary>
/// How the variance is reached when rows are independent but their variances differ (MacKinnon and White 1985).
/// </summary>
public enum HeteroskedasticityVariance
{
    /// <summary>Squared residuals as they are (White 1980). Too small in small samples.</summary>
    HC0,

    /// <summary>HC0 times n/(n-k).</summary>
    HC1,

    /// <summary>Squared residuals over one minus the leverage: unbiased where variances are equal.</summary>
    HC2,

    /// <summary>
    /// Squared residuals over the square of one minus the leverage: close to the jackknife; the cautious choice under
    /// 250 rows (Long and Ervin 2000).
    /// </summary>
    HC3,
}
