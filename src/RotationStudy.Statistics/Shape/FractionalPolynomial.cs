using System.Globalization;

namespace RotationStudy.Statistics.Shape;

/// <summary>
/// A fractional polynomial of degree one or two: powers of a positive quantity from a small set, the logarithm standing
/// for power zero.
/// </summary>
/// <remarks>
/// <para><b>Basis</b> with z = (x + shift) / scale &gt; 0: degree one z^p, degree two z^p and z^q, or z^p and z^p log z
/// where both powers are equal; z^0 means log z. Powers come from -2, -1, -1/2, 0, 1/2, 1, 2, 3.</para>
/// <para><b>Shift and scale</b>: values at or below zero need a shift; a scale near the size of the data keeps the
/// columns comparable. Neither changes which curve is best when the shift is the same.</para>
/// <para><b>Sources</b>: Royston P, Altman DG. J R Stat Soc C 1994;43:429-467.</para>
/// <para><b>Checked against</b>: Shape/fractional_polynomials.</para>
/// </remarks>
public sealed class FractionalPolynomial : ICurveBasis
{
    private static readonly double[] AllPowers = [-2, -1, -0.5, 0, 0.5, 1, 2, 3];

    private readonly double[] powers;

    /// <summary>A fractional polynomial of given powers.</summary>
    /// <param name="powers">One or two of <see cref="PowerSet"/>, not decreasing.</param>
    /// <param name="shift">Added first, in the quantity's unit.</param>
    /// <param name="scale">Divided by then, above zero.</param>
    /// <exception cref="InvalidInputError">Powers outside the set, more than two, or a scale that is not above zero.</exception>
    public FractionalPolynomial(IReadOnlyList<double> powers, double shift = 0, double scale = 1)
    {
        this.powers = [.. powers];
        if (this.powers.Length is < 1 or > 2 || Array.Exists(this.powers, p => Array.IndexOf(AllPowers, p) < 0) || this.powers[0] > this.powers[^1])
            throw new InvalidInputError(
                $"the powers {string.Join(", ", this.powers)} make no fractional polynomial",
                $"Give one or two of {string.Join(", ", AllPowers)}, the smaller first.");
        if (!(scale > 0) || !double.IsFinite(scale) || !double.IsFinite(shift))
            throw new InvalidInputError(
                $"a shift of {shift} and a scale of {scale} cannot be used",
                "Give a finite shift and a scale above zero.");
        Shift = shift;
        Scale = scale;
    }

    /// <summary>The powers to choose from.</summary>
    public static IReadOnlyList<double> PowerSet => AllPowers;

    /// <summary>The powers, not decreasing.</summary>
    public IReadOnlyList<double> Powers => powers;

    /// <summary>Added first.</summary>
    public double Shift { get; }

    /// <summary>Divided by then.</summary>
    public double Scale { get; }

    /// <inheritdoc/>
    public int Dimension => powers.Length;

    /// <inheritdoc/>
    public int LinearColumns => powers[0] == 1 ? 1 : 0;

    /// <inheritdoc/>
    public IReadOnlyList<string> Names(string quantity)
        => powers.Length == 2 && powers[0] == powers[1]
            ? [Power(quantity, powers[0]), $"{Power(quantity, powers[0])} times log"]
            : [.. powers.Select(p => Power(quantity, p))];

    /// <inheritdoc/>
    public void Evaluate(double x, Span<double> row)
    {
        double z = (x + Shift) / Scale;
        if (!(z > 0))
            throw new InvalidInputError(
                $"a value of {x} is not above zero after a shift of {Shift}",
                "Take a larger shift: fractional polynomials need positive values.");
        for (int j = 0; j < powers.Length; j++)
            row[j] = powers[j] == 0 ? Math.Log(z) : Math.Pow(z, powers[j]);
        if (powers.Length == 2 && powers[0] == powers[1])
            row[1] = row[0] * Math.Log(z);
    }

    /// <summary>
    /// A shift and a scale for values: the shift is zero when all are positive, else the smallest gap between values
    /// minus the smallest value; the scale is the power of ten next below the range of the shifted values, 1 for values
    /// within a range of ten.
    /// </summary>
    /// <exception cref="TooFewDataError">Fewer than two distinct values.</exception>
    public static (double Shift, double Scale) ShiftAndScale(IReadOnlyList<double> values)
    {
        double[] distinct = [.. Descriptive.Quantile.Sorted(values, "values").Distinct()];
        if (distinct.Length < 2)
            throw new TooFewDataError("a quantity with one distinct value has no shape", "Leave it out.");
        double gap = double.PositiveInfinity;
        for (int i = 1; i < distinct.Length; i++)
            gap = Math.Min(gap, distinct[i] - distinct[i - 1]);
        double shift = distinct[0] > 0 ? 0 : gap - distinct[0];
        double decades = Math.Log10(distinct[^1] - distinct[0]);
        return (shift, Math.Pow(10, Math.CopySign(Math.Floor(Math.Abs(decades)), decades)));
    }

    private static string Power(string quantity, double power)
        => power switch
        {
            0 => $"log {quantity}",
            1 => quantity,
            _ => string.Create(CultureInfo.InvariantCulture, $"{quantity} to the power {power}"),
        };
}
