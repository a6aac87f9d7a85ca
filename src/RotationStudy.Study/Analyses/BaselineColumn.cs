using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Analyses;

/// <summary>A characteristic on the rows of a baseline table, gaps kept apart.</summary>
internal sealed class BaselineColumn
{
    private readonly double[] values;

    private BaselineColumn(string label, ImmutableArray<string> codes, double[] values)
    {
        Label = label;
        Codes = codes;
        this.values = values;
    }

    internal string Label { get; }

    internal ImmutableArray<string> Codes { get; }

    internal bool IsCoded => Codes.Length > 0;

    internal static BaselineColumn Of(AnalysisInput input, MeasureColumn measure)
    {
        double[] values = new double[input.Table.Rows];
        for (int row = 0; row < values.Length; row++)
        {
            int source = measure.Index.Find(input.Table.Keys[row]);
            values[row] = source >= 0 && measure.HasValue(source) ? measure.Values[source] : double.NaN;
        }
        ImmutableArray<string> codes = measure.Definition is AnyEventMeasure ? ["no", "yes"] : [.. measure.Codes.Select(c => c.Meaning)];
        return new BaselineColumn(Labels.WithUnit(measure.Definition), codes, values);
    }

    /// <summary>The code of a row, or -1 where it is missing.</summary>
    internal int CodeOf(int row) => double.IsNaN(values[row]) ? -1 : (int)values[row];

    /// <summary>The values that are there among some rows.</summary>
    internal double[] Present(int[] rows) => [.. rows.Select(r => values[r]).Where(v => !double.IsNaN(v))];
}
