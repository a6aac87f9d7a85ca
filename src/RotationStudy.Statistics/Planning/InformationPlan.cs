namespace RotationStudy.Statistics.Planning;

/// <summary>Rows needed where each row carries the same information about a coefficient.</summary>
/// <remarks>
/// n = (z_(level/2) + z_power)^2 x design effect / (information per row x variance of the exposure x effect^2 x (1 - R^2)). Shared by
/// <see cref="OddsRatioPlan"/> and <see cref="RateRatioPlan"/>, which say what the information of a row is.
/// </remarks>
internal static class InformationPlan
{
    internal static double Rows(double effect, double informationPerRow, double exposureVariance, TestTarget target, double explained, double designEffect)
        => target.SquaredQuantiles() / (effect * effect * PerRow(informationPerRow, exposureVariance, explained, designEffect));

    internal static double Power(double rows, double effect, double informationPerRow, double exposureVariance, TestTarget target, double explained, double designEffect)
    {
        PlanningInput.AtLeast(rows, 0, "number of rows");
        return target.PowerAt(effect * Math.Sqrt(rows * PerRow(informationPerRow, exposureVariance, explained, designEffect)));
    }

    internal static double DetectableEffect(double rows, double informationPerRow, double exposureVariance, TestTarget target, double explained, double designEffect)
    {
        PlanningInput.Positive(rows, "number of rows");
        return Math.Sqrt(target.SquaredQuantiles() / (rows * PerRow(informationPerRow, exposureVariance, explained, designEffect)));
    }

    private static double PerRow(double information, double exposureVariance, double explained, double designEffect)
    {
        PlanningInput.Positive(exposureVariance, "variance of the exposure");
        PlanningInput.ShareBelowOne(explained, "R^2 of the exposure on the other terms");
        PlanningInput.Positive(designEffect, "design effect");
        return information * exposureVariance * (1 - explained) / designEffect;
    }
}
