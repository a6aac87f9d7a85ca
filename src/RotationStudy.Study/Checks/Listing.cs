namespace RotationStudy.Study.Checks;

/// <summary>Lists things in a sentence, a few of them and the number of the rest.</summary>
internal static class Listing
{
    private const int Most = 5;

    /// <summary>At most five, then how many more.</summary>
    internal static string Few<T>(IReadOnlyList<T> things)
    {
        string few = string.Join(", ", things.Take(Most));
        return things.Count <= Most ? few : FormattableString.Invariant($"{few} and {things.Count - Most} more");
    }
}
