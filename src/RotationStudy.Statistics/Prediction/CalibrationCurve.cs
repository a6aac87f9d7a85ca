using RotationStudy.Statistics.Descriptive;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Shape;

namespace RotationStudy.Statistics.Prediction;

/// <summary>A point of a calibration curve.</summary>
/// <param name="Predicted">Predicted risk.</param>
/// <param name="Observed">Share observed at that predicted risk.</param>
/// <param name="Interval">Pointwise interval of it.</param>
public sealed record CalibrationPoint(double Predicted, double Observed, ConfidenceInterval Interval);

/// <summary>Rows of like predicted risk.</summary>
/// <param name="Rows">Rows.</param>
/// <param name="Events">Rows with the event.</param>
/// <param name="Predicted">Mean predicted risk.</param>
/// <param name="Interval">Wilson interval of the share observed; it takes rows as independent.</param>
public sealed record CalibrationGroup(int Rows, int Events, double Predicted, ConfidenceInterval Interval);

/// <summary>Observed share against predicted risk: as a smooth curve and in groups.</summary>
/// <remarks>
/// <para>Curve: logistic regression of the outcome on a restricted cubic spline (3 knots) of the predicted log odds, with a pointwise band that lets rows of a
/// cluster depend; drawn between the 1st and 99th hundredth of the predicted risks. Where there are too few different risks for a
/// spline, or the fit separates, there is no curve. Groups hold equal numbers of rows; rows of equal risk are not torn apart.</para>
/// <para><b>Sources</b>: Austin PC, Steyerberg EW. Stat Med 2014;33:517-535; Van Calster B et al. J Clin Epidemiol 2016;74:167-176 (recalled, not re-read).</para>
/// </remarks>
public static class CalibrationCurve
{
    private const string LogOdds = "predicted log odds";
    private const int Points = 50;

    /// <summary>The smooth curve; empty where none can be drawn.</summary>
    /// <param name="risks">Predicted risks, none of them 0 or 1.</param>
    /// <param name="level">Level of the band.</param>
    public static IReadOnlyList<CalibrationPoint> Smooth(PredictedRisks risks, double level = ConfidenceInterval.DefaultLevel)
    {
        double[] logit = [.. risks.Risk.ToArray().Select(p => Math.Log(p) - Math.Log(1 - p))];
        try
        {
            RestrictedCubicSpline spline = RestrictedCubicSpline.AtQuantiles(logit, 3);
            double[] outcome = [.. risks.Outcome.ToArray().Select(o => o ? 1.0 : 0.0)];
            Clusters? clusters = risks.Clusters.Count == risks.Rows ? null : risks.Clusters;
            Coefficients fit = LogisticRegression.Fit(DesignMatrix.WithIntercept([.. Curve.Columns(spline, LogOdds, logit)]), outcome, clusters).Coefficients;
            double[] sorted = Quantile.Sorted(risks.Risk.ToArray(), "risk");
            double low = Quantile.OfSorted(sorted, 0.01);
            double high = Quantile.OfSorted(sorted, 0.99);
            return [.. Enumerable.Range(0, Points).Select(i => At(low + (i * (high - low) / (Points - 1)), spline, fit, level))];
        }
        catch (StatisticsError)
        {
            return [];
        }
    }

    /// <summary>Groups of about equal size, lowest risk first.</summary>
    /// <param name="risks">Predicted risks.</param>
    /// <param name="groups">Number of groups wanted; ties may leave fewer.</param>
    /// <param name="level">Level of the intervals.</param>
    public static IReadOnlyList<CalibrationGroup> Grouped(PredictedRisks risks, int groups = 10, double level = ConfidenceInterval.DefaultLevel)
    {
        int n = risks.Rows;
        double[] keys = risks.Risk.ToArray();
        bool[] outcome = risks.Outcome.ToArray();
        Array.Sort(keys, outcome);
        List<CalibrationGroup> made = [];
        for (int from = 0, g = 1; from < n; g++)
        {
            int to = g >= groups ? n : (int)((long)g * n / groups);
            if (to <= from)
                continue;
            while (to < n && keys[to] == keys[to - 1])
                to++;
            int events = outcome.AsSpan(from, to - from).Count(true);
            double sum = 0;
            for (int i = from; i < to; i++)
                sum += keys[i];
            made.Add(new CalibrationGroup(to - from, events, sum / (to - from), Proportion.Wilson(events, to - from, level).Interval));
            from = to;
        }
        return made;
    }

    private static CalibrationPoint At(double risk, RestrictedCubicSpline spline, Coefficients fit, double level)
    {
        double[] row = new double[spline.Dimension + 1];
        row[0] = 1;
        spline.Evaluate(Math.Log(risk) - Math.Log(1 - risk), row.AsSpan(1));
        Estimate estimate = fit.Combination("observed", row, level);
        LogisticFamily family = default;
        return new CalibrationPoint(risk, family.Mean(estimate.Value), estimate.Interval.Map(family.Mean));
    }
}
