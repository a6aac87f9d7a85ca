namespace RotationStudy.Statistics.Survival;

/// <summary>A running sum that keeps the rounding error of each step, so that what is added can be taken away again.</summary>
/// <remarks>
/// With delayed entry a risk set shrinks again as time runs backwards. A plain sum would keep the rounding noise of large
/// terms that have left; two doubles (Knuth's error-free addition) leave no trace of them.
/// </remarks>
internal struct CompensatedSum
{
    private double high;
    private double low;

    internal readonly double Value => high + low;

    internal void Add(double term)
    {
        double sum = high + term;
        double shadow = sum - high;
        low += (high - (sum - shadow)) + (term - shadow);
        high = sum;
    }
}
