namespace RotationStudy.Statistics.Prediction;

/// <summary>Where each row's score stands among the rows of the other outcome.</summary>
internal sealed class Placements
{
    private readonly bool[] outcome;
    private readonly double[] placement;

    private Placements(bool[] outcome, double[] placement, Clusters clusters)
    {
        this.outcome = outcome;
        this.placement = placement;
        Clusters = clusters;
        Events = outcome.Count(o => o);
        double sum = 0;
        for (int i = 0; i < outcome.Length; i++)
            sum += outcome[i] ? placement[i] : 0;
        Area = sum / Events;
    }

    internal Clusters Clusters { get; }

    internal int Events { get; }

    internal int NonEvents => outcome.Length - Events;

    internal double Area { get; }

    internal static Placements From(IReadOnlyList<bool> outcome, IReadOnlyList<double> score, Clusters? clusters)
    {
        bool[] o = [.. outcome];
        double[] s = [.. score];
        Require.SameLength(s.Length, o.Length, "score");
        Require.Finite(s, "score");
        clusters ??= Clusters.EachRow(o.Length);
        Require.SameLength(clusters.Rows, o.Length, "clusters");
        int events = o.Count(v => v);
        if (events == 0 || events == o.Length)
            throw new TooFewDataError($"{events} of {o.Length} rows have the event", "An area needs rows with and without it.");
        return new Placements(o, Shares(o, s, events), clusters);
    }

    /// <summary>The covariance of two areas: events' and non-events' parts, and what a cluster's events and non-events share.</summary>
    internal static double Covariance(Placements a, Placements b)
    {
        double m = a.Events;
        double n = a.NonEvents;
        double events = 0;
        double others = 0;
        double shared = 0;
        int withEvents = 0;
        int withOthers = 0;
        for (int c = 0; c < a.Clusters.Count; c++)
        {
            (double eventA, double otherA, bool hasEvent, bool hasOther) = a.Sums(c);
            (double eventB, double otherB, _, _) = b.Sums(c);
            withEvents += hasEvent ? 1 : 0;
            withOthers += hasOther ? 1 : 0;
            events += eventA * eventB;
            others += otherA * otherB;
            shared += 0.5 * ((eventA * otherB) + (eventB * otherA));
        }
        if (withEvents < 2 || withOthers < 2)
            throw new TooFewDataError($"{withEvents} clusters hold events and {withOthers} hold others", "The variance of an area needs two of each.");
        double all = a.Clusters.Count;
        return (withEvents / (withEvents - 1.0) * events / (m * m))
            + (withOthers / (withOthers - 1.0) * others / (n * n))
            + (2 * all / (all - 1) * shared / (m * n));
    }

    private (double Event, double Other, bool HasEvent, bool HasOther) Sums(int cluster)
    {
        (double eventSum, double otherSum, bool hasEvent, bool hasOther) = (0, 0, false, false);
        foreach (int i in Clusters.Members(cluster))
        {
            if (outcome[i])
            {
                eventSum += placement[i] - Area;
                hasEvent = true;
            }
            else
            {
                otherSum += placement[i] - Area;
                hasOther = true;
            }
        }
        return (eventSum, otherSum, hasEvent, hasOther);
    }

    /// <summary>Events: share of non-events below (ties a half). Non-events: share of events above.</summary>
    private static double[] Shares(bool[] outcome, double[] score, int events)
    {
        int n = outcome.Length;
        int[] order = new int[n];
        for (int i = 0; i < n; i++)
            order[i] = i;
        double[] keys = [.. score];
        Array.Sort(keys, order);
        double[] placement = new double[n];
        double eventsBelow = 0;
        double othersBelow = 0;
        for (int from = 0; from < n;)
        {
            int to = from;
            double tiedEvents = 0;
            while (to < n && keys[to] == keys[from])
                tiedEvents += outcome[order[to++]] ? 1 : 0;
            double tiedOthers = to - from - tiedEvents;
            for (int i = from; i < to; i++)
            {
                placement[order[i]] = outcome[order[i]]
                    ? (othersBelow + (0.5 * tiedOthers)) / (n - events)
                    : (events - eventsBelow - (0.5 * tiedEvents)) / events;
            }
            eventsBelow += tiedEvents;
            othersBelow += tiedOthers;
            from = to;
        }
        return placement;
    }
}
