using Spectre.Console;

namespace RotationStudy.Cli.Running;

/// <summary>What a command may use of the world: a place for progress, and word that the user wants to stop.</summary>
/// <param name="error">Where progress is shown.</param>
/// <param name="showsProgress">Whether anybody watches: a terminal, and not asked to be quiet.</param>
/// <param name="cancellation">Signalled when the user interrupts.</param>
internal sealed class Session(TextWriter error, bool showsProgress, CancellationToken cancellation)
{
    /// <summary>Signalled when the user interrupts.</summary>
    internal CancellationToken Cancellation => cancellation;

    /// <summary>Does work of several steps and shows the name of each while it lasts.</summary>
    /// <param name="work">Told where to report the name of each step; reporting also is where an interruption takes effect.</param>
    internal T Steps<T>(Func<IProgress<string>, T> work)
    {
        if (!showsProgress)
            return work(new StepReport(_ => { }, cancellation));
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(error) });
        return console.Status().Start("Starting", context => work(new StepReport(name => context.Status(Markup.Escape(name)), cancellation)));
    }

    private sealed class StepReport(Action<string> show, CancellationToken cancellation) : IProgress<string>
    {
        public void Report(string value)
        {
            cancellation.ThrowIfCancellationRequested();
            show(value);
        }
    }
}
