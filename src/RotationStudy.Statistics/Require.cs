namespace RotationStudy.Statistics;

/// <summary>The checks at the door of every statistic. Each names the row and the rule that it breaks.</summary>
internal static class Require
{
    internal static void Finite(ReadOnlySpan<double> values, string name)
    {
        for (int i = 0; i < values.Length; i++)
        {
            if (!double.IsFinite(values[i]))
                throw new InvalidInputError($"'{name}' holds {values[i]} in row {i}", "Leave incomplete rows out, or impute them, before fitting.", i, name);
        }
    }

    internal static void SameLength(int found, int expected, string name)
    {
        if (found != expected)
            throw new InvalidInputError($"'{name}' has {found} values where the design has {expected} rows", "Take all inputs from the same table.", column: name);
    }

    internal static void AtLeast(ReadOnlySpan<double> values, double minimum, string name)
    {
        for (int i = 0; i < values.Length; i++)
        {
            if (!(values[i] >= minimum))
                throw new InvalidInputError($"'{name}' holds {values[i]} in row {i}, below {minimum}", "Check the unit and the coding of this column.", i, name);
        }
    }

    internal static void Probability(double value, string name)
    {
        if (!(value > 0 && value < 1))
            throw new InvalidInputError($"'{name}' is {value}, not between 0 and 1", "Give a fraction such as 0.95.", column: name);
    }
}
