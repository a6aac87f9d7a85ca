using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Whether times that follow each other do.</summary>
/// <remarks>Those not reached at the end are no fault; one not reached before one that was is "left out". Missing where none was reached.</remarks>
internal static class MilestoneOrder
{
    private const int InOrder = 0;
    private const int OutOfOrder = 1;
    private const int LeftOut = 2;

    internal static MeasureColumn Derive(InOrderMeasure measure, Derivation derivation)
    {
        MeasureColumn[] times = [.. measure.Of.Select(id => derivation.Done[id])];
        LevelIndex level = times[0].Index;
        MeasureBuilder result = new(level, "no row");
        for (int row = 0; row < level.Rows; row++)
        {
            int last = Array.FindLastIndex(times, t => t.HasValue(row));
            if (last < 0)
                result.SetMissing(row, times[0].Reason(row)!);
            else
                result.Set(row, Judge(times.AsSpan(0, last + 1), row));
        }
        return result.Build(measure, [.. InOrderWords.Labels.Select(l => new CodeDefinition(l, l))]);
    }

    private static int Judge(ReadOnlySpan<MeasureColumn> times, int row)
    {
        double latest = double.NegativeInfinity;
        bool leftOut = false;
        foreach (MeasureColumn time in times)
        {
            if (!time.HasValue(row))
            {
                leftOut = true;
                continue;
            }
            if (time.Values[row] < latest)
                return OutOfOrder;
            latest = time.Values[row];
        }
        return leftOut ? LeftOut : InOrder;
    }
}
