using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Sum, difference, half difference or product of two measures, row by row; missing where either is.</summary>
internal static class PairArithmetic
{
    internal static MeasureColumn Derive(PairMeasure measure, Derivation derivation)
        => PairRows.Combine(measure, measure.First, measure.Second, derivation, (a, b) => Combine(measure.Operation, a, b)).Build(measure);

    private static double Combine(PairOperation operation, double a, double b) => operation switch
    {
        PairOperation.Sum => a + b,
        PairOperation.Difference => a - b,
        PairOperation.HalfDifference => (a - b) / 2,
        PairOperation.Product => a * b,
        _ => throw new ArgumentOutOfRangeException(nameof(operation)),
    };
}
