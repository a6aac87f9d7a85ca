using System.Text.Json;
using RotationStudy.Report.Files;
using RotationStudy.Report.Record;
using RotationStudy.Study.Results;

namespace RotationStudy.Cli.Running;

/// <summary>A finished run that was found intact.</summary>
/// <param name="Folder">Its folder.</param>
/// <param name="Record">Its record.</param>
/// <param name="Results">Its results.</param>
internal sealed record FinishedRun(string Folder, RunRecord Record, StudyResults Results)
{
    private const string ResultsFile = "results.json";

    /// <summary>Reads a run, or says why it cannot be relied on.</summary>
    internal static FinishedRun? Read(string folder, out Outcome? refused)
    {
        VerifiedRun verified = RunVerifier.Verify(folder);
        if (verified.Departures.Length > 0)
        {
            refused = Outcome.Failed(ExitCode.RunChanged,
                [.. verified.Departures.Select(d => $"{d.Place}: {d.What}"), $"{folder} is not as its record says, so nothing in it can be relied on. Take the run from the archive, or run the study again."]);
            return null;
        }
        try
        {
            refused = null;
            return new FinishedRun(folder, verified.Record!, ResultsJson.Read(File.ReadAllBytes(Path.Combine(folder, ResultsFile))));
        }
        catch (JsonException fault)
        {
            refused = Outcome.Failed(ExitCode.Files, $"{Path.Combine(folder, ResultsFile)}: The run was written by another version: {fault.Message}");
            return null;
        }
    }
}
