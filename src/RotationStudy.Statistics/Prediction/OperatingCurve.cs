namespace RotationStudy.Statistics.Prediction;

/// <summary>A threshold and what it finds.</summary>
/// <param name="Threshold">Predicted risk from which on a row counts as an alarm.</param>
/// <param name="FalseAlarms">Share of rows without the event at or above it.</param>
/// <param name="TrueAlarms">Share of rows with the event at or above it.</param>
public readonly record struct OperatingPoint(double Threshold, double FalseAlarms, double TrueAlarms);

/// <summary>The receiver operating characteristic: true against false alarms over all thresholds.</summary>
/// <remarks>One point per different risk, from (0, 0) above the largest to (1, 1); rows of equal risk enter together, so a tie is a slanted step and the area counts it a half.</remarks>
public static class OperatingCurve
{
    /// <summary>The points, thresholds falling; the first has an infinite threshold.</summary>
    public static IReadOnlyList<OperatingPoint> Of(PredictedRisks risks)
    {
        double[] keys = risks.Risk.ToArray();
        bool[] outcome = risks.Outcome.ToArray();
        Array.Sort(keys, outcome);
        List<OperatingPoint> points = [new OperatingPoint(double.PositiveInfinity, 0, 0)];
        int trueAlarms = 0;
        int falseAlarms = 0;
        for (int i = keys.Length - 1; i >= 0; i--)
        {
            if (outcome[i])
                trueAlarms++;
            else
                falseAlarms++;
            if (i == 0 || keys[i - 1] < keys[i])
                points.Add(new OperatingPoint(keys[i], (double)falseAlarms / (risks.Rows - risks.Events), (double)trueAlarms / risks.Events));
        }
        return points;
    }
}
