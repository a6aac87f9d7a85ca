using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Tables;

/// <summary>Whether a row belongs to the population of a question.</summary>
internal sealed class PopulationFilter
{
    private readonly MeasureColumn? measure;
    private readonly HashSet<int> kept = [];

    internal PopulationFilter(RowFilter? keep, DerivedMeasures measures)
    {
        if (keep is null)
            return;
        measure = measures[keep.Measure];
        for (int code = 0; code < measure.Codes.Length; code++)
        {
            if (keep.Codes.Contains(measure.Codes[code].Code))
                kept.Add(code);
        }
    }

    /// <summary>A row whose code is missing belongs to no named population.</summary>
    internal bool Holds(RowKey key)
    {
        if (measure is null)
            return true;
        int row = measure.Index.Find(key);
        return row >= 0 && measure.HasValue(row) && kept.Contains((int)measure.Values[row]);
    }
}
