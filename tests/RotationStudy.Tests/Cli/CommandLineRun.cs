using RotationStudy.Cli.Running;

namespace RotationStudy.Tests.Cli;

/// <summary>The command line as a user sees it: exit code, what was printed, what was complained about.</summary>
internal sealed record CommandLineRun(int ExitCode, string Output, string Error)
{
    internal static CommandLineRun Of(params string[] args) => Of(CancellationToken.None, args);

    internal static CommandLineRun Of(CancellationToken cancellation, params string[] args)
    {
        using StringWriter output = new();
        using StringWriter error = new();
        int code = CommandLine.Run(args, output, error, terminal: false, cancellation);
        return new CommandLineRun(code, output.ToString(), error.ToString());
    }
}
