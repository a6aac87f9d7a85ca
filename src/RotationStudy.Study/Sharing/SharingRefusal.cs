namespace RotationStudy.Study.Sharing;

/// <summary>Sums that a site does not hand out, or files of sites that do not fit together: what is wrong, and the next step.</summary>
public sealed class SharingRefusal(string what, string hint, Exception? inner = null) : Exception($"{what} {hint}", inner)
{
    /// <summary>What is wrong, one sentence.</summary>
    public string What { get; } = what;

    /// <summary>What to do next, one sentence.</summary>
    public string Hint { get; } = hint;
}
