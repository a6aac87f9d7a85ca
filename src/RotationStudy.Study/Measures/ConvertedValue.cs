using System.Globalization;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Values of one method turned into another by a published line; the error that this adds is said with the values.</summary>
internal static class ConvertedValue
{
    private const double Two95 = 1.96;

    internal static MeasureColumn Derive(ConvertedMeasure measure, Derivation derivation)
    {
        MeasureColumn of = derivation.Done[measure.Of];
        MethodRelation relation = measure.Relation;
        MeasureBuilder result = new(of.Index, "no row");
        for (int row = 0; row < of.Index.Rows; row++)
        {
            if (of.Reason(row) is { } reason)
                result.SetMissing(row, reason);
            else
                result.Set(row, relation.Intercept + (relation.Slope * of.Values[row]));
        }
        return result.Build(measure, note: string.Create(
            CultureInfo.InvariantCulture,
            $"A single converted value may be off by ±{Two95 * relation.ResidualDeviation:0.#}{(measure.Unit is null ? "" : " " + measure.Unit)} (95%) beyond its error of measurement."));
    }
}
