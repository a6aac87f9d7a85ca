using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace RotationStudy.Cli.Running;

/// <summary>Help that teaches: after usage and options come examples to copy, and what the exit codes mean.</summary>
internal static class TeachingHelp
{
    private static readonly Dictionary<string, string[]> Examples = new()
    {
        ["demo"] = ["rotationstudy demo --to runs/demo"],
        ["study"] =
        [
            "rotationstudy study protocols/patellar-instability synthetic-data/demo --to runs/first",
            "rotationstudy study protocols/growth-example protocols/growth-example/example-exports --to runs/growth --json",
        ],
        ["examine"] =
        [
            "rotationstudy examine protocols/patellar-instability synthetic-data/demo",
            "rotationstudy examine protocols/patellar-instability synthetic-data/demo --to runs/queries",
            "rotationstudy examine protocols/patellar-instability synthetic-data/demo --to runs/queries --previous runs/queries/query-list.csv",
        ],
        ["archive"] =
        [
            "rotationstudy archive protocols/patellar-instability synthetic-data/demo --to archives/first",
            "rotationstudy study protocols/patellar-instability archives/first --to runs/first",
        ],
        ["withdraw"] = ["rotationstudy withdraw archives/first withdrawn.txt"],
        ["template"] = ["rotationstudy template protocols/patellar-instability --to for-sites"],
        ["protocol"] = ["rotationstudy protocol protocols/patellar-instability"],
        ["explain"] =
        [
            "rotationstudy explain protocols/patellar-instability",
            "rotationstudy explain protocols/patellar-instability hip_internal_rotation",
        ],
        ["figure"] =
        [
            "rotationstudy figure runs/demo forest --for slide_dark --to slides",
            "rotationstudy figure runs/demo forest --for journal_single --to paper --title \"Torsion and recurrence\" --questions Q6 Q5",
            "rotationstudy figure runs/demo laxity-scatter --for poster --to poster --across 0 40",
        ],
        ["verify"] =
        [
            "rotationstudy verify runs/demo",
            "rotationstudy verify runs/demo --head 5f0c9a1b2c3d",
        ],
        ["trace"] =
        [
            "rotationstudy trace runs/demo",
            "rotationstudy trace runs/demo Q2.anteversion",
            "rotationstudy trace runs/demo Q2.anteversion --rows",
        ],
        ["seal"] = ["rotationstudy seal protocols/my-study --dated 2026-01-31"],
        ["audit"] =
        [
            "rotationstudy audit runs/first synthetic-data/demo --to audits/same",
            "rotationstudy audit runs/first exports/march --earlier exports/february --to audits/march",
        ],
        ["sample-size"] =
        [
            "rotationstudy sample-size protocols/patellar-instability",
            "rotationstudy sample-size protocols/patellar-instability --participants 450",
        ],
        ["site"] =
        [
            "rotationstudy site share protocols/patellar-instability exports-of-site-A --question Q4 --to a-1.json",
            "rotationstudy site gather protocols/patellar-instability a-1.json b-1.json c-1.json --to round-2.json",
        ],
        ["share"] =
        [
            "rotationstudy site share protocols/patellar-instability exports-of-site-A --question Q4 --to a-1.json",
            "rotationstudy site share protocols/patellar-instability exports-of-site-A --question Q4 --answers round-2.json --to a-2.json",
        ],
        ["gather"] =
        [
            "rotationstudy site gather protocols/patellar-instability a-1.json b-1.json c-1.json --to round-2.json",
            "rotationstudy site gather protocols/patellar-instability a-2.json b-2.json c-2.json --after round-2.json --to round-3.json",
        ],
        ["slides"] =
        [
            "rotationstudy slides runs/demo --to talk --dark",
            "rotationstudy slides runs/demo --to talk --figures forest dislocation-free",
        ],
        ["cohort"] =
        [
            "rotationstudy cohort --to runs/cohort --participants 1000 --seed 7",
            "rotationstudy cohort --to runs/cohort --participants 1000 --damage 3",
            "rotationstudy cohort --to runs/cohort --scenario synthetic-data/demo-scenario.yaml",
            "rotationstudy cohort --to runs/raters --raters",
        ],
    };

    private static readonly string[] ExitCodes =
    [
        "  0    done",
        "  1    the command line was not understood",
        "  2    the protocol or the scenario has faults",
        "  3    the export has findings that stop a run; nothing was analysed",
        "  4    a file or folder cannot be read or written",
        "  5    the report is written, but a planned question could not be answered",
        "  6    a run folder is not as its record says",
        "  7    a second run of the same exports gave other bytes",
        "  8    with the new exports a conclusion is another one",
        "  9    a site does not hand out the sums asked for, or files of sites do not fit together",
        "  70   a defect of the program",
        "  130  interrupted; nothing half-written is left",
    ];

    internal static void AddTo(RootCommand root)
    {
        HelpOption help = root.Options.OfType<HelpOption>().Single();
        help.Action = new Teaching((HelpAction)help.Action!);
    }

    private sealed class Teaching(HelpAction usual) : SynchronousCommandLineAction
    {
        public override int Invoke(ParseResult parseResult)
        {
            int code = usual.Invoke(parseResult);
            TextWriter output = parseResult.InvocationConfiguration.Output;
            string command = parseResult.CommandResult.Command.Name;
            output.WriteLine("Examples:");
            foreach (string example in Examples.GetValueOrDefault(command) ?? [.. Examples.Values.Select(e => e[0])])
                output.WriteLine("  " + example);
            output.WriteLine();
            output.WriteLine("Exit codes:");
            foreach (string line in ExitCodes)
                output.WriteLine(line);
            return code;
        }
    }
}
