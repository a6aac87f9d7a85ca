namespace RotationStudy.Report;

/// <summary>Hides counts of people from 1 to one below the study's smallest printed count, as "fewer than 5" or "&lt;5".</summary>
/// <remarks>Totals are printed as they are, so a single hidden count may be worked out from a sum; the page says so.</remarks>
/// <param name="Smallest">Smallest count of people that is printed; 1 hides nothing.</param>
internal sealed record SmallCounts(int Smallest)
{
    /// <summary>Whether a count is hidden.</summary>
    internal bool Hides(int n) => n > 0 && n < Smallest;

    /// <summary>The count, or "&lt;5".</summary>
    internal string Text(int n) => Hides(n) ? "<" + NumberFormat.Count(Smallest) : NumberFormat.Count(n);

    /// <summary>The count with its noun, or "fewer than 5 participants".</summary>
    internal string Words(int n, string one, string many)
        => Hides(n) ? $"fewer than {NumberFormat.Count(Smallest)} {many}" : NumberFormat.Count(n, one, many);
}
