using System.Globalization;
using System.Text.Json;

namespace RotationStudy.Statistics.Tests.Distributions;

/// <summary>The points of ReferenceData/Distributions/tails, with the worst relative error of a column in the message.</summary>
internal static class TailTable
{
    internal const double Tolerance = 1e-10;

    private static readonly ReferenceCase Case = ReferenceCase.Read("Distributions/tails");

    internal static IEnumerable<TailPoint> Points(string table)
        => Case.Element(table).EnumerateArray().Select(e => new TailPoint(e));

    /// <summary>Compares every point of a table and reports all that fail.</summary>
    internal static void Check(string table, string expected, Func<TailPoint, double> found)
    {
        List<string> failures = [];
        int compared = 0;
        foreach (TailPoint point in Points(table))
        {
            if (!point.Has(expected))
                continue;
            double wanted = point[expected];
            double value = found(point);
            compared++;
            double error = Math.Abs(value - wanted) / Math.Max(Math.Abs(wanted), double.Epsilon);
            if (!(error <= Tolerance) && wanted != value)
                failures.Add(FormattableString.Invariant($"{point}: {expected} found {value:R}, error {error:E2}"));
        }
        Assert.True(compared > 0, "no point was compared");
        Assert.True(failures.Count == 0, string.Join(Environment.NewLine, failures));
    }
}

/// <summary>One point: named numbers.</summary>
internal sealed class TailPoint(JsonElement element)
{
    internal double this[string name]
    {
        get
        {
            JsonElement value = element.GetProperty(name);
            return value.ValueKind == JsonValueKind.Number ? value.GetDouble() : double.Parse(value.GetString()!, NumberStyles.Float, CultureInfo.InvariantCulture);
        }
    }

    internal int Count(string name) => (int)this[name];

    internal string Text(string name) => element.GetProperty(name).GetString()!;

    internal bool Has(string name) => element.GetProperty(name).ValueKind != JsonValueKind.Null;

    public override string ToString() => element.GetRawText().Replace("\n", " ", StringComparison.Ordinal);
}
