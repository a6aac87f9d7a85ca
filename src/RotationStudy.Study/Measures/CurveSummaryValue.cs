using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Curves;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>One number from the mean curve of a side's trials.</summary>
internal static class CurveSummaryValue
{
    internal static MeasureColumn Derive(CurveSummaryMeasure measure, Derivation derivation)
    {
        LevelIndex level = derivation.LevelOf(measure);
        MeasureBuilder result = new(level, "no curve recorded");
        CurveReadings curves = CurveReadings.Read(measure.Curves, derivation);
        foreach (((int participant, int side), ImmutableArray<double?> curve) in curves.MeanCurves())
        {
            int row = level.Find(new RowKey(participant, side, -1));
            if (row < 0)
                continue;
            (double? value, string reason) = Summarize(measure, curves.Grid, curve);
            if (value is { } found)
                result.Set(row, found);
            else
                result.SetMissing(row, reason);
        }
        return result.Build(measure);
    }

    private static (double? Value, string Reason) Summarize(CurveSummaryMeasure measure, ImmutableArray<double> grid, ImmutableArray<double?> curve)
    {
        try
        {
            return (CurveSummary.Of(measure.Feature, grid, curve, measure.From, measure.To), "a point of the arc has no value");
        }
        catch (TooFewDataError)
        {
            return (null, "no point of the study lies in the arc");
        }
    }
}
