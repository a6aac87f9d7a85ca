using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Planning;

/// <summary>Rows needed to find a slope in linear regression, and what a number of rows can find.</summary>
/// <remarks>
/// The t statistic of the slope is noncentral with n - k degrees of freedom and noncentrality slope x sd of the exposure x
/// root(n (1 - R^2) / design effect) / residual sd, k counting all coefficients with the intercept. The exposure is taken as given
/// (fixed), both tails count. <b>Source</b>: Cohen J, Statistical Power Analysis for the Behavioral Sciences, 2nd ed. 1988, ch. 9.
/// <b>Checked against</b> the noncentral F of a general-purpose library (named in the tests).
/// </remarks>
public static class SlopePlan
{
    private const double MostRows = 1e9;

    /// <summary>Power of that many rows.</summary>
    /// <param name="rows">Number of rows.</param>
    /// <param name="slope">Change of the outcome per unit of the exposure.</param>
    /// <param name="exposureSd">Standard deviation of the exposure in the same unit.</param>
    /// <param name="residualSd">Standard deviation of the outcome that the model does not explain.</param>
    /// <param name="coefficients">Number of coefficients, with the intercept.</param>
    /// <param name="level">Level of the two-sided test.</param>
    /// <param name="explained">R^2 of the exposure on the other terms.</param>
    /// <param name="designEffect">Factor for rows that belong together.</param>
    /// <exception cref="InvalidInputError">A value outside its range, or no degrees of freedom.</exception>
    public static double Power(
        double rows, double slope, double exposureSd, double residualSd, int coefficients, double level = 0.05, double explained = 0, double designEffect = 1)
    {
        PlanningInput.Positive(exposureSd, "standard deviation of the exposure");
        PlanningInput.Positive(residualSd, "residual standard deviation");
        PlanningInput.ShareBelowOne(explained, "R^2 of the exposure on the other terms");
        PlanningInput.Positive(designEffect, "design effect");
        Require.Probability(level, nameof(level));
        double df = rows - coefficients;
        if (!(df > 0) || coefficients < 1)
            throw new InvalidInputError(FormattableString.Invariant($"{rows} rows leave no degrees of freedom beside {coefficients} coefficients"), "Give more rows.");
        double noncentrality = Math.Abs(slope) * exposureSd * Math.Sqrt(rows * (1 - explained) / designEffect) / residualSd;
        double critical = StudentT.UpperQuantile(level / 2, df);
        // The lower tail of the mirrored variable is the upper tail, without the loss of 1 - p.
        return NoncentralT.LowerTail(-critical, df, -noncentrality) + NoncentralT.LowerTail(-critical, df, noncentrality);
    }

    /// <summary>The fewest rows with the target's power.</summary>
    /// <exception cref="InvalidInputError">A value outside its range, a slope of 0, or more than a thousand million rows.</exception>
    public static double Rows(double slope, double exposureSd, double residualSd, int coefficients, TestTarget target, double explained = 0, double designEffect = 1)
    {
        target.SquaredQuantiles();
        if (slope == 0)
            throw new InvalidInputError("the slope is 0, which is no effect", "Give the smallest change that would matter.");
        double few = coefficients + 1;
        double many = few;
        while (Reaches(many) is false)
        {
            few = many;
            many *= 2;
            if (many > MostRows)
                throw new InvalidInputError("more than 1e9 rows would be needed", "Plan for a larger slope.");
        }
        while (many - few > 1)
        {
            double middle = Math.Floor((few + many) / 2);
            if (Reaches(middle))
                many = middle;
            else
                few = middle;
        }
        return many;

        bool Reaches(double rows) => Power(rows, slope, exposureSd, residualSd, coefficients, target.Level, explained, designEffect) >= target.Power;
    }
}
