using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

/// <summary>Comparison of fits that must be the same.</summary>
internal static class CoxFitAssert
{
    /// <summary>Coefficients and standard errors agree to 1e-9.</summary>
    internal static void Same(CoxFit a, CoxFit b)
    {
        for (int j = 0; j < a.Coefficients.Values.Count; j++)
        {
            Close.Relative(a.Coefficients.Values[j], b.Coefficients.Values[j], 1e-9);
            Close.Relative(a.Coefficients.StandardError(j), b.Coefficients.StandardError(j), 1e-9);
        }
    }
}
