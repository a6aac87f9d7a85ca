using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>One reading of a tracking curve.</summary>
/// <param name="Side">L or R.</param>
/// <param name="Trial">Number of the trial, from 1.</param>
/// <param name="Flexion">Knee flexion, degrees.</param>
/// <param name="Shift">Lateral shift of the patella, mm.</param>
/// <param name="Tilt">Lateral tilt of the patella, degrees.</param>
public sealed record CurveReading(char Side, int Trial, int Flexion, Reading Shift, Reading Tilt);

/// <summary>Records the tracking of both patellae over flexion, several trials each.</summary>
internal static class TrackingCurves
{
    private const int DeepestFlexion = 90;
    private const int StepDegrees = 10;

    internal static IEnumerable<CurveReading> Record(Scenario scenario, IReadOnlyList<SimulatedKnee> knees, NamedStreams streams)
    {
        TrackingScenario tracking = scenario.Tracking;
        if (!streams.Open("tracking").Happens(tracking.RecordedShare))
            yield break;
        RandomDraws values = streams.Open("tracking values");
        RandomDraws losses = streams.Open("lost tracking readings");
        foreach (SimulatedKnee knee in knees)
        {
            double lasting = values.Normal(tracking.ShiftMeanMm, tracking.KneeSdMm);
            double extra = ExtraAtExtension(tracking, knee) + values.Normal(0, tracking.KneeSdMm);
            for (int trial = 1; trial <= tracking.Trials; trial++)
            {
                double ofTrial = values.Normal(0, tracking.TrialSdMm);
                for (int flexion = 0; flexion <= DeepestFlexion; flexion += StepDegrees)
                {
                    double shift = lasting + (extra * Math.Exp(-flexion / tracking.ScaleDegrees)) + ofTrial;
                    double tilt = tracking.TiltMeanDegrees + (tracking.TiltPerMm * (shift - tracking.ShiftMeanMm));
                    yield return new CurveReading(
                        knee.Side, trial, flexion,
                        Kept(values.Normal(shift, tracking.ReadingSdMm), -15, 30),
                        Kept(values.Normal(tilt, tracking.TiltReadingSdDegrees), -25, 55));
                }
            }
        }

        Reading Kept(double value, double lowest, double highest)
            => Reading.OrLost(Math.Round(Math.Clamp(value, lowest, highest), 1), losses, scenario.Imperfections);
    }

    private static double ExtraAtExtension(TrackingScenario tracking, SimulatedKnee knee)
        => tracking.ExtensionShiftMm
            + (knee.PriorInstability ? tracking.ExtensionShiftPriorMm : 0)
            + (tracking.ExtensionShiftPer10Anteversion * (knee.Torsion.AnteversionAtEnrolment - 20) / 10);
}
