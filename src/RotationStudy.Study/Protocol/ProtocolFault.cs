namespace RotationStudy.Study.Protocol;

/// <summary>One thing that is wrong with a protocol folder.</summary>
/// <param name="Place">Where it stands.</param>
/// <param name="What">What is wrong, one sentence.</param>
/// <param name="Hint">What to do, one sentence; names the nearest valid name where there is one.</param>
public sealed record ProtocolFault(Place Place, string What, string Hint);

/// <summary>A protocol folder that cannot be used. All faults are gathered before this is thrown.</summary>
public sealed class ProtocolError(IReadOnlyList<ProtocolFault> faults)
    : Exception(string.Join(Environment.NewLine, faults.Select(f => $"{f.Place}: {f.What} {f.Hint}")))
{
    /// <summary>Every fault found, in order of file, line and column.</summary>
    public IReadOnlyList<ProtocolFault> Faults { get; } = faults;
}
