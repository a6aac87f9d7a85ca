using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>A column as it stands: one visit or method kept, raters and repeated readings reduced, the hip-first gate applied.</summary>
internal static class RecordedValue
{
    internal static MeasureColumn Derive(ValueMeasure measure, Derivation derivation)
    {
        RecordTable table = derivation.Records[measure.Table];
        LevelIndex level = derivation.LevelOf(measure);
        RecordColumn column = table[measure.Column];
        RowSelection selection = RowSelection.Of(table, measure.Visit, measure.MethodColumn, measure.Method, derivation);
        MeasureBuilder result = new(level, selection.NothingFound);
        Reducer reducer = new(level.Rows, measure.Reduction);
        for (int row = 0; row < table.Rows; row++)
        {
            if (!selection.Keeps(row, out RowKey key) || level.Find(key) is var target && target < 0)
                continue;
            if (measure.HipGate && derivation.Gate.Closes(selection.KeyWithVisit(row)) is { } closedBy)
                reducer.Block(target, closedBy);
            else if (column.HasValue(row))
                reducer.Add(target, column is CodeColumn code ? code.Indices[row] : ((NumberColumn)column).Values[row]);
            else
                reducer.Miss(target, column.MissingReason(row)!);
        }
        reducer.WriteTo(result);
        return result.Build(measure, column.Definition.Codes);
    }

    /// <summary>Gathers the values of each row of the level and reduces them.</summary>
    private sealed class Reducer(int rows, Reduction reduction)
    {
        private readonly double[] value = new double[rows];
        private readonly int[] count = new int[rows];
        private readonly Dictionary<int, string> missing = [];
        private readonly Dictionary<int, string> blocked = [];

        internal void Add(int row, double number)
        {
            value[row] = reduction switch
            {
                Reduction.Mean => value[row] + number,
                Reduction.First => count[row] == 0 ? number : value[row],
                _ => number,
            };
            count[row]++;
        }

        internal void Miss(int row, string reason) => missing.TryAdd(row, reason);

        internal void Block(int row, string reason) => blocked.TryAdd(row, reason);

        internal void WriteTo(MeasureBuilder result)
        {
            for (int row = 0; row < rows; row++)
            {
                if (blocked.TryGetValue(row, out string? reason))
                    result.SetMissing(row, reason);
                else if (count[row] > 0)
                    result.Set(row, reduction == Reduction.Mean ? value[row] / count[row] : value[row]);
                else if (missing.TryGetValue(row, out reason))
                    result.SetMissing(row, reason);
            }
        }
    }
}
