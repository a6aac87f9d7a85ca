namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Remembers where each value stands, so that a rule that looks at the whole protocol can still point at the word.</summary>
/// <remarks>
/// A value is found by the place of what it belongs to (a table, column, measure, question or figure, or the top of a
/// file) and its path below, such as <c>exposures[1].measure</c>.
/// </remarks>
internal sealed class PlaceBook
{
    private readonly Dictionary<(Place Owner, string Path), Place> places = [];

    /// <summary>The owner of what stands at the top of a file.</summary>
    internal static Place TopOf(string file) => new(file, 1, 1);

    internal void Add(Place owner, string path, Place place) => places.TryAdd((owner, path), place);

    /// <summary>Where the value stands; where its owner stands when the value was left out.</summary>
    internal Place Of(Place owner, string path) => places.GetValueOrDefault((owner, path), owner);

    /// <summary>Whether the value was written at all.</summary>
    internal bool Holds(Place owner, string path) => places.ContainsKey((owner, path));
}
