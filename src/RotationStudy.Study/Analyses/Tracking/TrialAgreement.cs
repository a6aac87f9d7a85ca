using RotationStudy.Statistics;
using RotationStudy.Statistics.Curves;
using RotationStudy.Statistics.Resampling;
using RotationStudy.Study.Measures;

namespace RotationStudy.Study.Analyses.Tracking;

/// <summary>How far the trials of a side agree.</summary>
/// <param name="Reliability">Intraclass correlation at each point and over the arc, and the error of one trial.</param>
/// <param name="Likeness">Coefficient of multiple correlation of each side; null where no side has two trials free of gaps.</param>
internal sealed record TrialAgreement(CurveReliabilityResult Reliability, MultipleCorrelationResult? Likeness)
{
    /// <summary>Agreement of the trials; null, with a warning, where no trials were repeated.</summary>
    internal static TrialAgreement? Of(AnalysisInput input, CurveReadings readings, ArcCurves curves, List<string> warnings)
    {
        if (input.Question.Curves!.Trial is null)
            return null;
        HashSet<(int, int)> used = [.. curves.Keys.Select(k => (k.Participant, k.Side))];
        CurveTrial[] trials = [.. readings.Trials.Where(t => used.Contains((t.Participant, t.Side)))];
        int[] points = [.. curves.Set.Grid.Select(g => readings.Grid.IndexOf(g))];
        int[] subjects = new int[trials.Length];
        Dictionary<(int, int), int> numbers = [];
        for (int i = 0; i < trials.Length; i++)
        {
            (int, int) unit = (trials[i].Participant, trials[i].Side);
            if (!numbers.TryGetValue(unit, out subjects[i]))
                numbers.Add(unit, subjects[i] = numbers.Count);
        }
        CurveSet set = CurveSet.From(
            curves.Set.Grid, [.. trials.Select(t => (IReadOnlyList<double?>)[.. points.Select(j => t.Values[j])])], Clusters.From(trials.Select(t => t.Participant).ToArray()));
        try
        {
            CurveReliabilityResult reliability = CurveReliability.Estimate(
                set, subjects, new BootstrapOptions { Seed = (ulong)input.Protocol.Study.Seed, Stream = $"trials {input.Question.Id}" });
            return new TrialAgreement(reliability, LikenessOf(set, subjects));
        }
        catch (StatisticsError error)
        {
            warnings.Add($"No agreement of trials: {error.What}.");
            return null;
        }
    }

    private static MultipleCorrelationResult? LikenessOf(CurveSet set, int[] subjects)
    {
        try
        {
            return MultipleCorrelation.Estimate(set, subjects);
        }
        catch (TooFewDataError)
        {
            return null;
        }
    }
}
