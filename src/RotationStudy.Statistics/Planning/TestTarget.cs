using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Planning;

/// <summary>What a planned two-sided test is to achieve.</summary>
/// <param name="Level">Chance of a false alarm, two-sided; 0.05 by default.</param>
/// <param name="Power">Chance of finding the planned effect; 0.8 by default.</param>
public sealed record TestTarget(double Level = 0.05, double Power = 0.8)
{
    /// <summary>The squared sum of the two normal quantiles, which every large-sample formula of this folder shares.</summary>
    /// <exception cref="InvalidInputError">A level or power that is no probability, or power not above half the level.</exception>
    internal double SquaredQuantiles()
    {
        Require.Probability(Level, "level");
        Require.Probability(Power, "power");
        if (Power <= Level / 2)
            throw new InvalidInputError($"a power of {Power} is reached without any data at a level of {Level}", "Give a power above half the level.");
        double sum = StandardNormal.UpperQuantile(Level / 2) + StandardNormal.Quantile(Power);
        return sum * sum;
    }

    /// <summary>Power when the estimate lies that many standard errors from no effect; the tail of the wrong sign is left out.</summary>
    internal double PowerAt(double standardErrors) => StandardNormal.UpperTail(StandardNormal.UpperQuantile(Level / 2) - Math.Abs(standardErrors));
}
