namespace RotationStudy.Simulation.Scenarios;

/// <summary>An invented study of the tracking of the patella: both knees of everybody over flexion, anteversion read by one or two raters.</summary>
/// <remarks>The persons are those of a cohort scenario; which knees are unstable does not depend on their bones.</remarks>
public sealed record TrackingStudyScenario
{
    /// <summary>Short name.</summary>
    public required string Id { get; init; }

    /// <summary>What the scenario stands for, one line.</summary>
    public required string Title { get; init; }

    /// <summary>Number of participants.</summary>
    public required int Participants { get; init; }

    /// <summary>Share of participants with an unstable knee.</summary>
    public required double UnstableShare { get; init; }

    /// <summary>Raters, two or more, of whom one or two read a person.</summary>
    public required IReadOnlyList<string> Raters { get; init; }

    /// <summary>Share of participants whom a second rater reads as well.</summary>
    public required double SecondRaterShare { get; init; }

    /// <summary>Standard deviation between raters, degrees.</summary>
    public required double RaterSd { get; init; }

    /// <summary>Standard deviation of one reading of anteversion, degrees.</summary>
    public required double AnteversionReadingSd { get; init; }

    /// <summary>Numbers behind the curves.</summary>
    public required TrackingScenario Tracking { get; init; }

    /// <summary>The scenario of the shipped example, carried within the program: the same file as synthetic-data/tracking-scenario.yaml.</summary>
    public static TrackingStudyScenario Shipped() => ScenarioReader.ParseTrackingStudy(DemoScenario.Text("tracking-scenario.yaml"), "tracking-scenario.yaml");
}
