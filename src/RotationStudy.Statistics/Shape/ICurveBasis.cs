namespace RotationStudy.Statistics.Shape;

/// <summary>
/// Columns that let the effect of one continuous quantity bend: a spline, a polynomial, a fractional polynomial.
/// </summary>
public interface ICurveBasis
{
    /// <summary>Number of columns.</summary>
    int Dimension { get; }

    /// <summary>How many leading columns are the straight line: 1, or 0 where the basis holds no line.</summary>
    int LinearColumns { get; }

    /// <summary>Names of the columns for a quantity of a name.</summary>
    IReadOnlyList<string> Names(string quantity);

    /// <summary>The columns at one value.</summary>
    /// <param name="x">The value, in the quantity's unit.</param>
    /// <param name="row">Receives <see cref="Dimension"/> values.</param>
    /// <exception cref="InvalidInputError">A value where the basis is not defined.</exception>
    void Evaluate(double x, Span<double> row);
}
