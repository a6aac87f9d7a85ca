using System.CommandLine;
using RotationStudy.Cli.Running;

namespace RotationStudy.Cli.Commands;

/// <summary>Carries out the demo study on the made-up cohort; both travel with the program.</summary>
internal static class DemoCommand
{
    private const string Default = "runs/demo";

    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Option<string> to = new("--to") { HelpName = "folder", DefaultValueFactory = _ => Default, Description = "Run folder to make; an earlier demo there is replaced" };
        Command command = new("demo", "Carry out the demo study on a made-up cohort") { to };
        return (command, (parsed, session) => StudyRun.Run(Carried("protocol"), Carried("exports"), parsed.GetRequiredValue(to), replace: true, session));
    }

    private static string Carried(string what) => Path.Combine(AppContext.BaseDirectory, "demo", what);
}
