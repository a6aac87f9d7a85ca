using System.Text.Json;
using RotationStudy.Report.Files;
using RotationStudy.Report.Record;
using RotationStudy.Study.Results;

namespace RotationStudy.Cli.Running;

/// <summary>A run of earlier, read back to make something from it without computing again.</summary>
/// <param name="Record">Its record.</param>
/// <param name="Results">Its results.</param>
internal sealed record EarlierRun(RunRecord Record, StudyResults Results)
{
    /// <summary>Reads a run and makes something of it; a run of another version is refused in words.</summary>
    internal static Outcome With(string folder, Func<EarlierRun, Outcome> act)
    {
        EarlierRun run;
        try
        {
            run = new EarlierRun(RunRecord.Read(folder), ResultsJson.Read(File.ReadAllBytes(Path.Combine(folder, "results.json"))));
        }
        catch (JsonException fault)
        {
            return Outcome.Failed(ExitCode.Files, $"{folder}: The run was written by another version, or is damaged: {fault.Message} Run the study again.");
        }
        return act(run);
    }

    /// <summary>Writes each file aside and moves it into place, so that no half file is ever seen.</summary>
    internal static void Write(string folder, IEnumerable<(string Name, byte[] Content)> files)
    {
        Directory.CreateDirectory(folder);
        foreach ((string name, byte[] content) in files)
        {
            string aside = Path.Combine(folder, $".{name}.unfinished");
            File.WriteAllBytes(aside, content);
            File.Move(aside, Path.Combine(folder, name), overwrite: true);
        }
    }
}
