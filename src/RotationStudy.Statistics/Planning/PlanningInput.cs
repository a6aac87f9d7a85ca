using System.Runtime.CompilerServices;

namespace RotationStudy.Statistics.Planning;

/// <summary>Refuses assumptions that cannot be.</summary>
internal static class PlanningInput
{
    internal static void Positive(double value, string name)
    {
        if (!(value > 0) || !double.IsFinite(value))
            throw new InvalidInputError(FormattableString.Invariant($"{name} is {value}"), "Give a number above 0.");
    }

    internal static void AtLeast(double value, double least, string name)
    {
        if (!(value >= least) || !double.IsFinite(value))
            throw new InvalidInputError(FormattableString.Invariant($"{name} is {value}"), FormattableString.Invariant($"Give {least} or more."));
    }

    internal static void Correlation(double value, string name)
    {
        if (!(value >= 0 && value <= 1))
            throw new InvalidInputError(FormattableString.Invariant($"{name} is {value}"), "Give a number from 0 to 1.");
    }

    /// <summary>A share of variance explained by the other terms: 1 would leave nothing to estimate.</summary>
    internal static void ShareBelowOne(double value, string name)
    {
        if (!(value >= 0 && value < 1))
            throw new InvalidInputError(FormattableString.Invariant($"{name} is {value}"), "Give a number from 0 to below 1.");
    }

    /// <summary>A ratio other than 1, which would be no effect.</summary>
    internal static double LogRatio(double ratio, [CallerArgumentExpression(nameof(ratio))] string name = "")
    {
        Positive(ratio, name);
        if (ratio == 1)
            throw new InvalidInputError($"{name} is 1, which is no effect", "Give the smallest ratio that would matter.");
        return Math.Log(ratio);
    }

    /// <summary>Whole units that are enough: rounded up, but not for a last digit of noise.</summary>
    internal static double Enough(double exact) => Math.Ceiling(exact * (1 - 1e-12));
}
