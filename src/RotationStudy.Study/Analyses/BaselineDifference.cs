using RotationStudy.Statistics;
using RotationStudy.Statistics.GroupComparison;

namespace RotationStudy.Study.Analyses;

/// <summary>The standardized difference of two groups for a baseline table; null where it has no value.</summary>
internal static class BaselineDifference
{
    internal static double? OfNumbers(double[] first, double[] second)
        => Try(() => StandardizedDifference.Continuous(second, first));

    internal static double? OfCodes(double[] first, double[] second, int codes)
        => Try(() => StandardizedDifference.Categories(Counts(second, codes), Counts(first, codes)));

    private static int[] Counts(double[] values, int codes)
    {
        int[] counts = new int[codes];
        foreach (double value in values)
            counts[(int)value]++;
        return counts;
    }

    // A group of one, or no spread at all, has no standardized difference: the table shows a dash.
    private static double? Try(Func<StandardizedDifference> compute)
    {
        try
        {
            return compute().Value;
        }
        catch (StatisticsError)
        {
            return null;
        }
    }
}
