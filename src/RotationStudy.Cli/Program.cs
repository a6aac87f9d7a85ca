using System.Runtime.InteropServices;
using RotationStudy.Cli.Running;

using CancellationTokenSource interruption = new();
Action<PosixSignalContext> onSignal = context =>
{
    // The first signal lets the step end cleanly; a second one ends the process at once.
    context.Cancel = !interruption.IsCancellationRequested;
    interruption.Cancel();
};
using PosixSignalRegistration interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, onSignal);
using PosixSignalRegistration terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, onSignal);
return CommandLine.Run(args, Console.Out, Console.Error, terminal: !Console.IsErrorRedirected, interruption.Token);
