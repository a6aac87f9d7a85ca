namespace RotationStudy.Statistics.Distributions;

/// <summary>The ranges in which the distributions exist.</summary>
internal static class Domain
{
    internal static void Positive(double value, string name)
    {
        if (!(value > 0))
            throw new InvalidInputError($"'{name}' is {value}, not above zero", "Check how the parameter was computed.", column: name);
    }

    internal static void PositiveFinite(double value, string name)
    {
        Positive(value, name);
        if (double.IsInfinity(value))
            throw new InvalidInputError($"'{name}' is infinite", "Give a finite parameter.", column: name);
    }

    internal static void Share(double value)
    {
        if (!(value >= 0 && value <= 1))
            throw new InvalidInputError($"a share of {value} does not lie in 0 to 1", "Give a probability.");
    }

    internal static void Count(int value, string name)
    {
        if (value < 0)
            throw new InvalidInputError($"'{name}' is {value}, below zero", "Give a count.", column: name);
    }
}
