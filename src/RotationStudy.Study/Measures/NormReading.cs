using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics.Distributions;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Rules;

namespace RotationStudy.Study.Measures;

/// <summary>A measure read against a norm for the age and sex of the person on the day of the reading.</summary>
/// <remarks>A person whom the norm does not cover gets no number: the reason says the ages that it covers.</remarks>
internal static class NormReading
{
    private const double DaysPerYear = 365.25;
    private const int OutsideAges = 3;

    internal static MeasureColumn Derive(NormMeasure measure, Derivation derivation)
    {
        Norm norm = derivation.Protocol.Norm(measure.Norm);
        MeasureColumn of = derivation.Done[measure.Of];
        MeasureBuilder result = new(of.Index, "no row");
        int outside = 0;
        for (int row = 0; row < of.Index.Rows; row++)
        {
            if (of.Reason(row) is { } reason)
                result.SetMissing(row, reason);
            else if (Age(measure, of.Index.Keys[row], derivation, out string? unknown) is not { } age)
                result.SetMissing(row, unknown!);
            else if (norm.RowOf(Sex(measure, of.Index.Keys[row], derivation), age) is { } fitting)
                result.Set(row, Read(measure.Use, of.Values[row], fitting));
            else
            {
                outside++;
                if (measure.Use == NormUse.Position)
                    result.Set(row, OutsideAges);
                else
                    result.SetMissing(row, $"the norm covers {Ages(norm)} only");
            }
        }
        ImmutableArray<CodeDefinition> codes = measure.Use == NormUse.Position ? [.. ReadingMeasureRules.Positions.Select(p => new CodeDefinition(p, p))] : [];
        return result.Build(measure, codes, outside == 0 ? null : $"{outside} values lie outside the ages or sexes of the norm and were not read against it.");
    }

    /// <summary>The ages that a norm covers, in words.</summary>
    internal static string Ages(Norm norm)
        => string.Create(CultureInfo.InvariantCulture, $"ages {norm.Rows.Min(r => r.AgeFrom):0.##} to under {norm.Rows.Max(r => r.AgeTo):0.##} years");

    private static double Read(NormUse use, double value, NormRow norm) => use switch
    {
        NormUse.ZScore => norm.ZScore(value),
        NormUse.Centile => 100 * StandardNormal.LowerTail(norm.ZScore(value)),
        NormUse.Difference => value - norm.Mean,
        _ => value < norm.Lowest ? 0 : value > norm.Highest ? 2 : 1,
    };

    private static double? Age(NormMeasure measure, RowKey key, Derivation derivation, out string? unknown)
    {
        double? age = Value(measure.Age, key, derivation, out unknown);
        if (age is null || measure.Day is null)
            return age;
        return Value(measure.Day, key, derivation, out unknown) is { } day ? age + (day / DaysPerYear) : null;
    }

    private static string? Sex(NormMeasure measure, RowKey key, Derivation derivation)
        => measure.Sex is { } sex && Value(sex, key, derivation, out _) is { } code ? derivation.Done[sex].Codes[(int)code].Code : null;

    private static double? Value(string id, RowKey key, Derivation derivation, out string? unknown)
    {
        MeasureColumn column = derivation.Done[id];
        int row = column.Index.Find(key);
        unknown = row < 0 ? "no row" : column.Reason(row);
        if (unknown is null)
            return column.Values[row];
        unknown = $"{column.Definition.Label}: {unknown}";
        return null;
    }
}
