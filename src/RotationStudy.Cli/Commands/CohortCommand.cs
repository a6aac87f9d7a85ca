using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Simulation;
using RotationStudy.Simulation.Exports;
using RotationStudy.Simulation.Scenarios;

namespace RotationStudy.Cli.Commands;

/// <summary>Writes a made-up cohort with known truth.</summary>
internal static class CohortCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Option<string> to = new("--to") { Required = true, HelpName = "folder", Description = "New folder for the export files and truth.json" };
        Option<int> seed = new("--seed") { HelpName = "n", DefaultValueFactory = _ => DemoScenario.Seed, Description = "Seed: the same seed gives the same bytes" };
        Option<int?> participants = new("--participants") { HelpName = "n", Description = "Number of participants, instead of the scenario's" };
        Option<string?> scenario = new("--scenario") { HelpName = "file", Description = "Scenario in YAML, instead of the demo's" };
        Option<bool> raters = new("--raters") { Description = "The rater sub-study instead: every rater, two sessions" };
        Option<bool> tracking = new("--tracking") { Description = "The study of patellar tracking instead: both knees over flexion, three trials" };
        Option<int> damage = new("--damage") { HelpName = "n", Description = "Also write <folder>-damaged, with n faults of each declared way, and their list" };
        Command command = new("cohort", "Make up a cohort with known truth, as export files") { to, seed, participants, scenario, raters, tracking, damage };
        return (command, (parsed, session) => parsed.GetValue(tracking)
            ? WriteTracking(parsed.GetRequiredValue(to), parsed.GetValue(seed), parsed.GetValue(participants), parsed.GetValue(scenario) is not null || parsed.GetValue(raters))
            : parsed.GetValue(raters)
            ? WriteRaters(parsed.GetRequiredValue(to), parsed.GetValue(seed), parsed.GetValue(participants), parsed.GetValue(scenario))
            : DamagedCopy.Beside(parsed.GetRequiredValue(to), parsed.GetValue(seed), parsed.GetValue(damage), () => Write(
                parsed.GetRequiredValue(to), parsed.GetValue(seed), parsed.GetValue(participants), parsed.GetValue(scenario), session)));
    }

    private static Outcome Write(string folder, int seed, int? participants, string? file, Session session)
    {
        Scenario scenario = file is null ? DemoScenario.Read() : ScenarioReader.Read(file);
        if (participants is { } wanted)
        {
            if (wanted is < 1 or > 10_000_000)
                return Outcome.Failed(ExitCode.Usage, $"--participants {wanted} cannot be. Give 1 to 10000000.");
            scenario = scenario with { Cohort = scenario.Cohort with { Participants = wanted } };
        }
        CohortCounts counts = session.Steps(steps => CohortFolder.Write(
            new SimulatedCohort(scenario, seed), folder, new Written(steps, scenario.Cohort.Participants), session.Cancellation));
        return new Outcome(
            ExitCode.Done,
            [
                $"Invented data: {counts.Participants} participants, {counts.Visits} visits, {counts.Dislocations} dislocations of {counts.KneesEverDislocated} knees.",
                $"Export files and {CohortFolder.TruthFile} are in {folder}.",
            ],
            [],
            new JsonObject
            {
                ["folder"] = folder,
                ["seed"] = seed,
                ["participants"] = counts.Participants,
                ["visits"] = counts.Visits,
                ["dislocations"] = counts.Dislocations,
            });
    }

    private static Outcome WriteRaters(string folder, int seed, int? participants, string? file)
    {
        if (file is not null)
            return Outcome.Failed(ExitCode.Usage, "--scenario belongs to a cohort, --raters to the rater sub-study. Give one of them.");
        RaterStudyScenario study = RaterStudyScenario.Shipped();
        if (participants is { } wanted)
        {
            if (wanted is < 1 or > 1_000_000)
                return Outcome.Failed(ExitCode.Usage, $"--participants {wanted} cannot be. Give 1 to 1000000.");
            study = study with { Participants = wanted };
        }
        RaterStudyFolder.Write(study, DemoScenario.Read(), seed, folder);
        return new Outcome(
            ExitCode.Done,
            [
                $"Invented data: {study.Participants} participants, {study.Raters.Count} raters, two sessions.",
                $"Export files and {CohortFolder.TruthFile} are in {folder}.",
            ],
            [],
            new JsonObject { ["folder"] = folder, ["seed"] = seed, ["participants"] = study.Participants, ["raters"] = study.Raters.Count });
    }

    private static Outcome WriteTracking(string folder, int seed, int? participants, bool another)
    {
        if (another)
            return Outcome.Failed(ExitCode.Usage, "--tracking stands alone: --scenario belongs to a cohort, --raters to the rater sub-study. Give one of them.");
        TrackingStudyScenario study = TrackingStudyScenario.Shipped();
        if (participants is { } wanted)
        {
            if (wanted is < 1 or > 1_000_000)
                return Outcome.Failed(ExitCode.Usage, $"--participants {wanted} cannot be. Give 1 to 1000000.");
            study = study with { Participants = wanted };
        }
        TrackingStudyFolder.Write(study, DemoScenario.Read(), seed, folder);
        return new Outcome(
            ExitCode.Done,
            [
                $"Invented data: {study.Participants} participants, both knees, {study.Tracking.Trials} trials over flexion.",
                $"Export files and {CohortFolder.TruthFile} are in {folder}.",
            ],
            [],
            new JsonObject { ["folder"] = folder, ["seed"] = seed, ["participants"] = study.Participants, ["trials"] = study.Tracking.Trials });
    }

    private sealed class Written(IProgress<string> steps, int total) : IProgress<int>
    {
        public void Report(int value)
            => steps.Report(string.Create(CultureInfo.InvariantCulture, $"Making up participants: {value} of {total}"));
    }
}
