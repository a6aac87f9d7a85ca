namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Gathers what is wrong with a protocol folder, so that all of it is said at once.</summary>
internal sealed class FaultList
{
    private readonly List<ProtocolFault> faults = [];

    internal int Count => faults.Count;

    internal void Add(Place place, string what, string hint) => faults.Add(new ProtocolFault(place, what, hint));

    /// <summary>Ends the reading when anything was found.</summary>
    /// <exception cref="ProtocolError">Holds every fault in order of file, line and column.</exception>
    internal void ThrowIfAny()
    {
        if (faults.Count == 0)
            return;
        throw new ProtocolError(
            [.. faults
                .Distinct()
                .OrderBy(f => f.Place.File, StringComparer.Ordinal)
                .ThenBy(f => f.Place.Line)
                .ThenBy(f => f.Place.Column)
                .ThenBy(f => f.What, StringComparer.Ordinal)]);
    }
}
