namespace RotationStudy.Simulation.Scenarios;

/// <summary>An invented rater sub-study: every rater examines both sides of everybody at two sessions, and images are read once.</summary>
/// <remarks>
/// Reading = true angle of the side at that session + constant error of the rater + error of the rater at that session +
/// error of the reading, then written with a liking for multiples of five. The persons are those of a cohort scenario.
/// </remarks>
public sealed record RaterStudyScenario
{
    /// <summary>Short name.</summary>
    public required string Id { get; init; }

    /// <summary>What the scenario stands for, one line.</summary>
    public required string Title { get; init; }

    /// <summary>Number of participants.</summary>
    public required int Participants { get; init; }

    /// <summary>Raters, two or more; all of them examine everybody.</summary>
    public required IReadOnlyList<string> Raters { get; init; }

    /// <summary>Days from the first session to the second.</summary>
    public required int SessionGapDays { get; init; }

    /// <summary>Standard deviation between raters, degrees.</summary>
    public required double RaterSd { get; init; }

    /// <summary>Standard deviation of a rater's error between sessions, degrees.</summary>
    public required double SessionSd { get; init; }

    /// <summary>Standard deviation of a true angle from session to session, degrees.</summary>
    public required double DaySd { get; init; }

    /// <summary>Standard deviation of one reading, degrees.</summary>
    public required double ReadingSd { get; init; }

    /// <summary>Share of readings given to the nearest 5 degrees.</summary>
    public required double HeapingShare { get; init; }

    /// <summary>Share of readings that are not recorded.</summary>
    public required double NotRecordedShare { get; init; }

    /// <summary>Trochanteric prominence angle at anteversion 20, degrees.</summary>
    public required double ProminenceDegrees { get; init; }

    /// <summary>Change of that angle per degree of anteversion; below 1 the clinical angle falls behind.</summary>
    public required double ProminencePerAnteversion { get; init; }

    /// <summary>Standard deviation of a side's angle around that, degrees: what the test does not see, whoever reads.</summary>
    public required double ProminenceSideSd { get; init; }

    /// <summary>Standard deviation of an anteversion read on the image, degrees.</summary>
    public required double ImageSd { get; init; }

    /// <summary>The scenario of the shipped example, carried within the program: the same file as synthetic-data/rater-scenario.yaml.</summary>
    public static RaterStudyScenario Shipped() => ScenarioReader.ParseRaterStudy(DemoScenario.Text("rater-scenario.yaml"), "rater-scenario.yaml");
}
