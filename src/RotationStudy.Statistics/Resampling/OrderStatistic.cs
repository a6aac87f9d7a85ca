namespace RotationStudy.Statistics.Resampling;

/// <summary>Reads a share off sorted values at position (n+1)p, interpolating linearly and staying inside the values.</summary>
internal static class OrderStatistic
{
    internal static double At(ReadOnlySpan<double> sorted, double share)
    {
        double position = (share * (sorted.Length + 1)) - 1;
        if (position <= 0)
            return sorted[0];
        if (position >= sorted.Length - 1)
            return sorted[^1];
        int below = (int)position;
        return sorted[below] + ((position - below) * (sorted[below + 1] - sorted[below]));
    }
}
