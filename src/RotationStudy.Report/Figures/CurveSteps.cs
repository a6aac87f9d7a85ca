using System.Collections.Immutable;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>A curve as corners: each step is a level and a drop, drawn to the end of follow-up.</summary>
/// <param name="Times">Times of the corners.</param>
/// <param name="Share">Share at the corners.</param>
/// <param name="Lower">Lower end of the band.</param>
/// <param name="Upper">Upper end of the band.</param>
internal sealed record CurveSteps(double[] Times, double[] Share, double[] Lower, double[] Upper)
{
    internal static CurveSteps Of(EventFreeCurve curve) => new(
        [.. Corners(curve, curve.Times, isTime: true)],
        [.. Corners(curve, curve.Share)],
        [.. Corners(curve, curve.Lower)],
        [.. Corners(curve, curve.Upper)]);

    /// <summary>Last time at which someone was followed: the last step, the last end of follow-up, or the last number at risk.</summary>
    internal static double End(EventFreeCurve curve)
    {
        double end = curve.Times.IsEmpty ? 0 : curve.Times[^1];
        if (!curve.CensorTimes.IsEmpty)
            end = Math.Max(end, curve.CensorTimes.Max());
        for (int i = 0; i < curve.AtRiskTimes.Length; i++)
        {
            if (curve.AtRisk[i] > 0)
                end = Math.Max(end, curve.AtRiskTimes[i]);
        }
        return end;
    }

    /// <summary>The share at a time.</summary>
    internal static double At(EventFreeCurve curve, double time) => ValueAt(curve, curve.Share, time, 1);

    /// <summary>The value of a stepped line at a time; <paramref name="before"/> ahead of the first step.</summary>
    internal static double ValueAt(EventFreeCurve curve, ImmutableArray<double> values, double time, double before)
    {
        int step = curve.Times.AsSpan().BinarySearch(time);
        int at = step >= 0 ? step : ~step - 1;
        while (at + 1 < curve.Times.Length && curve.Times[at + 1] <= time)
            at++;
        return at < 0 ? before : values[at];
    }

    private static IEnumerable<double> Corners(EventFreeCurve curve, ImmutableArray<double> values, bool isTime = false)
    {
        double last = isTime ? 0 : 1;
        if (curve.Times.IsEmpty || curve.Times[0] > 0)
            yield return last;
        for (int i = 0; i < values.Length; i++)
        {
            if (i > 0 || curve.Times[0] > 0)
                yield return isTime ? values[i] : last;
            yield return values[i];
            last = values[i];
        }
        yield return isTime ? End(curve) : last;
    }
}
