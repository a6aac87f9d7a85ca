using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>What a rater makes of an angle: a constant error of the rater, a chance error of the reading, and a liking for multiples of five.</summary>
internal sealed class RaterErrors
{
    private readonly Dictionary<string, double> constant;
    private readonly ExamScenario exam;

    internal RaterErrors(Scenario scenario, int seed)
    {
        exam = scenario.Exam;
        NamedStreams shared = NamedStreams.Shared(seed);
        constant = scenario.Sites.SelectMany(s => s.Raters).Distinct()
            .ToDictionary(r => r, r => shared.Open($"rater {r}").Normal(0, exam.RaterSd));
    }

    /// <summary>The angle as this rater writes it, whole degrees.</summary>
    internal double Read(double truth, string rater, RandomDraws draws)
        => Written(truth + constant[rater] + draws.Normal(0, exam.ReadingSd), exam.HeapingShare, draws);

    /// <summary>A number to the nearest five degrees with that probability, else to the nearest degree.</summary>
    internal static double Written(double value, double heapingShare, RandomDraws draws)
        => draws.Happens(heapingShare) ? 5 * Math.Round(value / 5) : Math.Round(value);
}
