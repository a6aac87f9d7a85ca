using RotationStudy.Report.Files;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Study.Archive;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Withdrawal;
using RotationStudy.Study.Sharing;

namespace RotationStudy.Cli.Running;

/// <summary>Turns what was thrown into words and an exit code. No stack trace: the words say what, where and what to do.</summary>
internal static class FaultWords
{
    internal static Outcome Of(Exception fault) => fault switch
    {
        OperationCanceledException => Outcome.Failed(ExitCode.Interrupted, "Interrupted. Nothing half-written was left behind."),
        AggregateException { InnerExceptions: [{ } only] } => Of(only),
        ProtocolError protocol => Outcome.Failed(ExitCode.ProtocolFaults, [.. protocol.Faults.Select(f => $"{f.Place}: {f.What} {f.Hint}")]),
        ScenarioError scenario => Outcome.Failed(ExitCode.ProtocolFaults, $"{scenario.Where}: {scenario.What} {scenario.Hint}"),
        ArchiveError archive => Outcome.Failed(ExitCode.Files, $"{archive.Path}: {archive.What} {archive.Hint}"),
        InvalidWithdrawalList or UnreadableQueryList => Outcome.Failed(ExitCode.Files, fault.Message),
        OutputError output => Outcome.Failed(ExitCode.Files, $"{output.Path}: {output.What} {output.Hint}"),
        SharingRefusal refusal => Outcome.Failed(ExitCode.SharingRefused, refusal.What, refusal.Hint),
        DirectoryNotFoundException or FileNotFoundException => Outcome.Failed(ExitCode.Files, $"{fault.Message} Look at the path."),
        UnauthorizedAccessException => Outcome.Failed(ExitCode.Files, $"{fault.Message} Ask for the right to read or write there, or choose another folder."),
        IOException => Outcome.Failed(ExitCode.Files, $"{fault.Message} Choose another folder, or make room and try again."),
        _ => Defect(fault),
    };

    private static Outcome Defect(Exception fault)
        => Outcome.Failed(ExitCode.Defect,
            $"A defect of the program: {fault.GetType().Name}: {fault.Message}",
            "No result was written. Please report it with the command line and the versions printed by --version; do not send data.");
}
