using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Sealing;

namespace RotationStudy.Cli.Commands;

/// <summary>Seals the plan of a protocol: what it says now, under a date and a hash, to which every later report is held.</summary>
internal static class SealCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> protocol = new("protocol") { Description = "Protocol folder" };
        Option<string> dated = new("--dated") { Required = true, HelpName = "date", Description = "The date of the seal, such as 2026-01-31" };
        Command command = new("seal", "Seal the plan before the data are opened; later reports list every deviation from it") { protocol, dated };
        return (command, (parsed, _) => Act(parsed.GetRequiredValue(protocol), parsed.GetRequiredValue(dated)));
    }

    private static Outcome Act(string folder, string dated)
    {
        if (!DateOnly.TryParseExact(dated, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly date))
            return Outcome.Failed(ExitCode.Usage, $"'{dated}' is no date. Write year, month and day, such as 2026-01-31.");
        StudyProtocol protocol = ProtocolReader.Read(folder);
        string path = Path.Combine(folder, PlanSeal.FileName);
        if (File.Exists(path))
        {
            return Outcome.Failed(ExitCode.Files,
                $"{path}: The plan was sealed on {protocol.Seal?.Dated}. A plan is sealed once; what is changed afterwards is listed in every report.");
        }
        PlanSeal made = PlanSeal.Of(date, protocol.Files.Select(f => (f.Name, File.ReadAllText(Path.Combine(folder, f.Name), Encoding.UTF8))));
        string aside = path + ".unfinished";
        File.WriteAllBytes(aside, made.Write());
        File.Move(aside, path);
        return new Outcome(
            ExitCode.Done,
            [$"Sealed {made.Files.Length} files, dated {made.Dated}, as {path}.", $"Hash of the seal, to be deposited elsewhere: {made.Sha256}"], [],
            new JsonObject { ["seal"] = path, ["dated"] = made.Dated, ["sha256"] = made.Sha256, ["files"] = made.Files.Length });
    }
}
