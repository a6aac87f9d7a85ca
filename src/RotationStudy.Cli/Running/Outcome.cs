using System.Text.Json.Nodes;

namespace RotationStudy.Cli.Running;

/// <summary>What a command has to say at its end.</summary>
/// <param name="Code">Exit code.</param>
/// <param name="Said">Lines for the reader; silenced by --quiet.</param>
/// <param name="Faults">Lines about what went wrong; never silenced.</param>
/// <param name="Facts">The same for machines, printed by --json.</param>
internal sealed record Outcome(ExitCode Code, IReadOnlyList<string> Said, IReadOnlyList<string> Faults, JsonObject Facts)
{
    internal static Outcome Failed(ExitCode code, params IReadOnlyList<string> faults) => new(code, [], faults, []);
}
