namespace RotationStudy.Study.Protocol.Reading;

/// <summary>What all readers of one protocol folder share.</summary>
/// <param name="Faults">Faults found so far.</param>
/// <param name="Places">Where each value stands.</param>
internal sealed record ReadingContext(FaultList Faults, PlaceBook Places)
{
    /// <summary>Measures that could not be read: their faults are reported once, not again wherever they are named.</summary>
    internal HashSet<string> UnreadMeasures { get; } = new(StringComparer.Ordinal);
}
