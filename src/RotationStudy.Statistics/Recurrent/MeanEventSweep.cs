using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Recurrent;

/// <summary>One sweep over time that gives the mean number of events, its variance, and each cluster's influence on it.</summary>
/// <remarks>
/// With S the estimate of being free of the terminal event, F the mean, h = d/Y the rate of events, C the sum of
/// d_T/(Y (Y - d_T)) over terminal events and P the sum of S h (C - 1/Y), a unit at risk since e has influence P(t) - P(e)
/// - C(e)(F(t) - F(e)) plus S/Y for each of its events; after it left at x a constant plus its slope times F(t), as for
/// cumulative incidences (see <see cref="IncidenceSums"/>), recurrences leaving S untouched.
/// </remarks>
internal sealed class MeanEventSweep
{
    private readonly RecurrentEvents events;
    private readonly Clusters clusters;
    private readonly ClusterInfluence influence;
    private double survival = 1;
    private double mean;
    private double c;
    private double p;

    internal MeanEventSweep(RecurrentEvents events, int[] units, Clusters clusters, double until)
    {
        this.events = events;
        this.clusters = clusters;
        influence = new ClusterInfluence(clusters.Count, 3);
        LastTime = units.Max(u => events.Histories[u].End);
        Run(units, until);
    }

    internal readonly record struct Step(double Time, int AtRisk, int Events, double Mean, double Variance);

    internal List<Step> Steps { get; } = [];

    internal double LastTime { get; }

    internal double Mean => mean;

    internal double Influence(int cluster) => influence.Of(cluster, [1, mean, p]);

    private void Run(int[] units, double until)
    {
        (double Time, int Unit, bool Terminal)[] happenings = Happenings(units);
        int[] byEntry = [.. units.OrderBy(u => events.Histories[u].Entry)];
        int[] byEnd = [.. units.OrderBy(u => events.Histories[u].End)];
        int entered = 0;
        int left = 0;
        int atRisk = 0;
        for (int from = 0; from < happenings.Length && happenings[from].Time <= until && survival > 0;)
        {
            double time = happenings[from].Time;
            for (; entered < byEntry.Length && events.Histories[byEntry[entered]].Entry < time; entered++, atRisk++)
                Change(byEntry[entered], (c * mean) - p, -c, 1);
            for (; left < byEnd.Length && events.Histories[byEnd[left]].End < time; left++)
            {
                atRisk--;
                if (!events.Histories[byEnd[left]].Terminal)
                    Change(byEnd[left], p - (c * mean), c, -1);
            }
            int to = from;
            while (to < happenings.Length && happenings[to].Time == time)
                to++;
            At(happenings.AsSpan(from, to - from), time, atRisk);
            from = to;
        }
    }

    private (double, int, bool)[] Happenings(int[] units)
    {
        List<(double Time, int Unit, bool Terminal)> all = [];
        foreach (int u in units)
        {
            foreach (double time in events.Histories[u].EventTimes)
                all.Add((time, u, false));
            if (events.Histories[u].Terminal)
                all.Add((events.Histories[u].End, u, true));
        }
        return [.. all.OrderBy(h => h.Time)];
    }

    private void At(ReadOnlySpan<(double Time, int Unit, bool Terminal)> happenings, double time, int atRisk)
    {
        int recurrences = 0;
        int terminal = 0;
        foreach ((_, int unit, bool isTerminal) in happenings)
        {
            terminal += isTerminal ? 1 : 0;
            recurrences += isTerminal ? 0 : 1;
            if (!isTerminal)
                Change(unit, survival / atRisk, 0, 0);
        }
        double rate = (double)recurrences / atRisk;
        p += survival * rate * (c - (1.0 / atRisk));
        mean += survival * rate;
        double free = atRisk - terminal;
        c += free > 0 ? terminal / (atRisk * free) : 0;
        foreach ((_, int unit, bool isTerminal) in happenings)
        {
            double slope = free > 0 ? 1 / free : 0;
            if (isTerminal)
                Change(unit, p - (c * mean) + (slope * mean), c - slope, -1);
        }
        survival *= free / atRisk;
        if (recurrences > 0 || terminal > 0)
            Steps.Add(new Step(time, atRisk, recurrences, mean, influence.Variance([1, mean, p])));
    }

    private void Change(int unit, double constant, double slope, int atRisk)
    {
        int cluster = clusters.ClusterOfRow[unit];
        influence.Add(cluster, 0, constant);
        influence.Add(cluster, 1, slope);
        influence.Add(cluster, 2, atRisk);
    }
}
