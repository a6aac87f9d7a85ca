using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

/// <summary>Changes of the data that must not change a result.</summary>
internal static class SplitFollowUp
{
    /// <summary>Every row observed across the cut becomes two adjoining rows.</summary>
    internal static (SurvivalTimes Times, int[] RowOf) At(SurvivalTimes times, double cut)
    {
        List<double> entry = [];
        List<double> exit = [];
        List<bool> happened = [];
        List<int> row = [];
        for (int i = 0; i < times.Rows; i++)
        {
            bool across = times.Entry[i] < cut && cut < times.Exit[i];
            if (across)
            {
                entry.Add(times.Entry[i]);
                exit.Add(cut);
                happened.Add(false);
                row.Add(i);
            }
            entry.Add(across ? cut : times.Entry[i]);
            exit.Add(times.Exit[i]);
            happened.Add(times.IsEvent[i]);
            row.Add(i);
        }
        return (SurvivalTimes.CountingProcess(entry, exit, happened), [.. row]);
    }

    internal static int[] Shuffled(int n, int seed)
    {
        int[] order = [.. Enumerable.Range(0, n)];
        new Random(seed).Shuffle(order);
        return order;
    }
}
