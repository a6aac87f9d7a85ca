namespace RotationStudy.Statistics.Survival;

/// <summary>How many rows are at risk at any time, from their sorted entries and exits.</summary>
internal sealed class FollowUpCounts(double[] entries, double[] exits)
{
    internal int Rows => exits.Length;

    internal double LastTime => exits[^1];

    /// <summary>Rows that entered before the time and left at or after it.</summary>
    internal int AtRisk(double time) => Count(entries, time, static (e, t) => e < t) - Count(exits, time, static (e, t) => e < t);

    /// <summary>How many leading members of a sorted list satisfy a condition that holds for a prefix.</summary>
    internal static int Count<T>(IReadOnlyList<T> sorted, double time, Func<T, double, bool> holds)
    {
        int low = 0;
        int high = sorted.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (holds(sorted[middle], time))
                low = middle + 1;
            else
                high = middle;
        }
        return low;
    }
}
