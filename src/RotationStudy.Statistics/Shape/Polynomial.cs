namespace RotationStudy.Statistics.Shape;

/// <summary>A polynomial in (x - centre) / unit.</summary>
/// <remarks>
/// Centring near the middle of the data keeps the columns from being almost dependent and gives the line's coefficient
/// a meaning: the slope at the centre, per unit. The curve is the same whatever the centre. Polynomials of degree three
/// or more swing at the edges; a restricted cubic spline does not.
/// </remarks>
public sealed class Polynomial : ICurveBasis
{
    /// <summary>A polynomial of a degree.</summary>
    /// <param name="degree">Highest power, 1 or more.</param>
    /// <param name="center">Subtracted first, in the quantity's unit.</param>
    /// <param name="unit">Divided by, above zero, in the quantity's unit.</param>
    /// <exception cref="InvalidInputError">A degree under 1, or a unit that is not above zero.</exception>
    public Polynomial(int degree, double center = 0, double unit = 1)
    {
        if (degree < 1 || !(unit > 0) || !double.IsFinite(unit) || !double.IsFinite(center))
            throw new InvalidInputError(
                $"degree {degree}, centre {center} and unit {unit} make no polynomial",
                "Give a degree of 1 or more and a unit above zero.");
        Dimension = degree;
        Center = center;
        Unit = unit;
    }

    /// <summary>Subtracted first.</summary>
    public double Center { get; }

    /// <summary>Divided by.</summary>
    public double Unit { get; }

    /// <inheritdoc/>
    public int Dimension { get; }

    /// <inheritdoc/>
    public int LinearColumns => 1;

    /// <inheritdoc/>
    public IReadOnlyList<string> Names(string quantity)
        => [quantity, .. Enumerable.Range(2, Dimension - 1).Select(d => $"{quantity} to the power {d}")];

    /// <inheritdoc/>
    public void Evaluate(double x, Span<double> row)
    {
        double z = (x - Center) / Unit;
        double power = 1;
        for (int d = 0; d < Dimension; d++)
            row[d] = power *= z;
    }
}
