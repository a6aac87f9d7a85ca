using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Imputation;

/// <summary>Picks one of the nearest donors from sorted predictions, in time log n.</summary>
internal static class DonorMatching
{
    /// <summary>A position drawn evenly from the <paramref name="count"/> keys nearest to the wanted value; where keys are equal, any of them may stand for the place.</summary>
    internal static int Pick(double[] sorted, double wanted, int count, RandomStream random)
    {
        int right = Below(sorted, wanted, orEqual: false);
        int left = right - 1;
        int at = right;
        for (int step = random.Below(count); step >= 0; step--)
        {
            bool takeLeft = right >= sorted.Length || (left >= 0 && wanted - sorted[left] <= sorted[right] - wanted);
            at = takeLeft ? left-- : right++;
        }
        double key = sorted[at];
        if ((at == 0 || sorted[at - 1] != key) && (at == sorted.Length - 1 || sorted[at + 1] != key))
            return at;
        int first = Below(sorted, key, orEqual: false);
        return first + random.Below(Below(sorted, key, orEqual: true) - first);
    }

    /// <summary>How many keys lie below the value, or at it.</summary>
    private static int Below(double[] sorted, double value, bool orEqual)
    {
        int low = 0;
        int high = sorted.Length;
        while (low < high)
        {
            int middle = (low + high) >>> 1;
            if (sorted[middle] < value || (orEqual && sorted[middle] == value))
                low = middle + 1;
            else
                high = middle;
        }
        return low;
    }
}
