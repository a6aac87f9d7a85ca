namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Finds the valid name that a wrong one was probably meant to be.</summary>
/// <remarks>
/// The distance is the number of letters inserted, left out, changed or swapped with their neighbour, upper and lower
/// case counted as equal. A name is near when no more than a third of its letters differ, and at least two may.
/// </remarks>
internal static class NearestName
{
    private const int MostListed = 12;

    /// <summary>The nearest of the valid names, or null when none is near. The first wins a tie.</summary>
    internal static string? Of(string wrong, IEnumerable<string> valid)
    {
        string? nearest = null;
        int least = int.MaxValue;
        foreach (string name in valid)
        {
            int distance = Distance(Fold(wrong), Fold(name));
            if (distance < least && distance <= Math.Max(2, Math.Max(wrong.Length, name.Length) / 3))
            {
                nearest = name;
                least = distance;
            }
        }
        return nearest;
    }

    /// <summary>A sentence that names the nearest valid name, or lists the valid ones when they are few.</summary>
    internal static string Hint(string wrong, IReadOnlyCollection<string> valid)
    {
        if (Of(wrong, valid) is { } nearest)
            return $"Did you mean '{nearest}'?";
        return valid.Count switch
        {
            0 => "None is declared.",
            <= MostListed => $"Use {List(valid)}.",
            _ => $"There are {valid.Count}, among them {List(valid.Take(MostListed))}.",
        };
    }

    /// <summary>Names in quotes, separated by commas.</summary>
    internal static string List(IEnumerable<string> names) => string.Join(", ", names.Select(n => $"'{n}'"));

    private static string Fold(string name)
        => new([.. name.Select(c => c is ' ' or '-' ? '_' : char.ToLowerInvariant(c))]);

    private static int Distance(string a, string b)
    {
        int[] twoBack = new int[b.Length + 1];
        int[] above = [.. Enumerable.Range(0, b.Length + 1)];
        for (int i = 1; i <= a.Length; i++)
        {
            int[] here = new int[b.Length + 1];
            here[0] = i;
            for (int j = 1; j <= b.Length; j++)
            {
                int change = above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
                here[j] = Math.Min(change, 1 + Math.Min(above[j], here[j - 1]));
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    here[j] = Math.Min(here[j], 1 + twoBack[j - 2]);
            }
            (twoBack, above) = (above, here);
        }
        return above[b.Length];
    }
}
