namespace RotationStudy.Statistics.Survival;

/// <summary>Rows arranged so that every risk set is a prefix: by stratum, then from the latest exit to the earliest.</summary>
/// <remarks>
/// A position is a place in this arrangement. Moments are the distinct event times of a stratum, latest first, closed by one
/// moment of time minus infinity without events, so that "no event seen" has a place of its own. At moment m the rows with
/// exit at or after it are the positions from the stratum's start to AtRiskEnd[m]; of these the first RemovedEnd[m] of
/// EntryOrder have not entered yet. A row is at risk at the moments FirstMoment &lt;= m &lt; PastMoment. Built in O(n log n).
/// </remarks>
internal sealed class RiskSets
{
    private RiskSets(int rows, int strata, int moments)
    {
        Row = new int[rows];
        IsEvent = new bool[rows];
        EntryOrder = new int[rows];
        FirstMoment = new int[rows];
        PastMoment = new int[rows];
        StratumStart = new int[strata + 1];
        MomentStart = new int[strata + 1];
        Time = new double[moments];
        AtRiskEnd = new int[moments];
        EventCount = new int[moments];
        RemovedEnd = new int[moments];
    }

    internal int Rows => Row.Length;

    internal int Strata => StratumStart.Length - 1;

    /// <summary>Moments of all strata, the closing one of each stratum included.</summary>
    internal int Moments { get; private set; }

    /// <summary>The row of the caller's table at each position.</summary>
    internal int[] Row { get; }

    internal bool[] IsEvent { get; }

    /// <summary>Positions from the latest entry to the earliest, stratum by stratum.</summary>
    internal int[] EntryOrder { get; }

    /// <summary>Moments of each position's events are EventMoment from EventStart of the position to that of the next.</summary>
    internal int[] EventStart { get; private set; } = [];

    internal int[] EventMoment { get; private set; } = [];

    internal int[] FirstMoment { get; }

    internal int[] PastMoment { get; }

    internal int[] StratumStart { get; }

    internal int[] MomentStart { get; }

    internal double[] Time { get; }

    /// <summary>Position after the last row whose exit is at or after the moment; its events are the last of these.</summary>
    internal int[] AtRiskEnd { get; }

    internal int[] EventCount { get; }

    /// <summary>Place in EntryOrder after the last row whose entry is at or after the moment.</summary>
    internal int[] RemovedEnd { get; }

    /// <summary>Whether any row enters at or after an event of its stratum.</summary>
    internal bool HasLateEntry { get; private set; }

    internal int AtRisk(int moment) => AtRiskEnd[moment] - RemovedEnd[moment];

    /// <summary>First of the positions, up to AtRiskEnd, that leave at or after this moment and before the next later one.</summary>
    internal int LeavingStart(int stratum, int moment) => moment == MomentStart[stratum] ? StratumStart[stratum] : AtRiskEnd[moment - 1];

    internal static RiskSets Build(SurvivalTimes times, Clusters? strata = null)
    {
        int count = strata?.Count ?? 1;
        RiskSets sets = new(times.Rows, count, times.EventCount + count);
        double[] key = new double[times.Rows];
        for (int s = 0, position = 0; s < count; s++)
        {
            if (strata is null)
            {
                for (int i = 0; i < times.Rows; i++)
                    sets.Row[position++] = i;
            }
            else
            {
                strata.Members(s).CopyTo(sets.Row.AsSpan(position));
                position += strata.Members(s).Length;
            }
            sets.StratumStart[s + 1] = position;
            sets.SortByExit(times, s, key);
            sets.FindMoments(times, s);
            sets.SortByEntry(times, s, key);
        }
        return sets;
    }

    /// <summary>One stratum of rows from time zero that stay at risk through any number of events up to their exit.</summary>
    internal static RiskSets BuildRepeated(IReadOnlyList<double> exit, IReadOnlyList<IReadOnlyList<double>> eventTimes)
    {
        int n = exit.Count;
        double[] distinct = [.. eventTimes.SelectMany(t => t).Distinct().OrderDescending()];
        RiskSets sets = new(n, 1, distinct.Length + 1);
        sets.StratumStart[1] = n;
        sets.MomentStart[1] = sets.Moments = distinct.Length + 1;
        distinct.CopyTo(sets.Time, 0);
        sets.Time[^1] = double.NegativeInfinity;
        double[] key = [.. exit.Select(e => -e)];
        for (int i = 0; i < n; i++)
            sets.Row[i] = i;
        Array.Sort(key, sets.Row);
        int moment = 0;
        for (int q = 0; q < n; q++)
        {
            for (; sets.Time[moment] > -key[q]; moment++)
                sets.AtRiskEnd[moment] = q;
            sets.FirstMoment[q] = moment;
        }
        sets.AtRiskEnd.AsSpan(moment).Fill(n);
        sets.EventStart = new int[n + 1];
        List<int> of = new(distinct.Length);
        for (int q = 0; q < n; q++)
        {
            foreach (double time in eventTimes[sets.Row[q]])
            {
                int at = Array.BinarySearch(distinct, time, Latest);
                sets.EventCount[at]++;
                of.Add(at);
            }
            sets.EventStart[q + 1] = of.Count;
        }
        sets.EventMoment = [.. of];
        return sets;
    }

    private static readonly IComparer<double> Latest = Comparer<double>.Create((a, b) => b.CompareTo(a));

    /// <summary>Fills the moments of events of rows that leave with their event.</summary>
    internal RiskSets WithEventMoments()
    {
        EventStart = new int[Rows + 1];
        List<int> of = [];
        for (int q = 0; q < Rows; q++)
        {
            if (IsEvent[q])
                of.Add(FirstMoment[q]);
            EventStart[q + 1] = of.Count;
        }
        EventMoment = [.. of];
        return this;
    }

    private void SortByExit(SurvivalTimes times, int stratum, double[] key)
    {
        int start = StratumStart[stratum];
        int end = StratumStart[stratum + 1];
        for (int q = start; q < end; q++)
            key[q] = -times.Exit[Row[q]];
        Array.Sort(key, Row, start, end - start);
        for (int from = start; from < end;)
        {
            int to = from + 1;
            while (to < end && key[to] == key[from])
                to++;
            Row.AsSpan(from, to - from).Sort();
            CensoredFirst(times, from, to);
            from = to;
        }
    }

    // Among rows of one exit time the events come last, both parts in the order of the caller's table.
    private void CensoredFirst(SurvivalTimes times, int from, int to)
    {
        int write = from;
        List<int>? events = null;
        for (int q = from; q < to; q++)
        {
            if (times.IsEvent[Row[q]])
                (events ??= []).Add(Row[q]);
            else
                Row[write++] = Row[q];
        }
        if (events is null)
            return;
        foreach (int row in events)
        {
            IsEvent[write] = true;
            Row[write++] = row;
        }
    }

    private void FindMoments(SurvivalTimes times, int stratum)
    {
        int end = StratumStart[stratum + 1];
        int moment = MomentStart[stratum];
        for (int from = StratumStart[stratum]; from < end;)
        {
            double exit = times.Exit[Row[from]];
            int events = 0;
            int to = from;
            while (to < end && times.Exit[Row[to]] == exit)
            {
                FirstMoment[to] = moment;
                events += IsEvent[to++] ? 1 : 0;
            }
            if (events > 0)
            {
                Time[moment] = exit;
                EventCount[moment] = events;
                AtRiskEnd[moment++] = to;
            }
            from = to;
        }
        Time[moment] = double.NegativeInfinity;
        AtRiskEnd[moment] = end;
        RemovedEnd[moment] = end;
        MomentStart[stratum + 1] = Moments = moment + 1;
    }

    private void SortByEntry(SurvivalTimes times, int stratum, double[] key)
    {
        int start = StratumStart[stratum];
        int end = StratumStart[stratum + 1];
        int closing = MomentStart[stratum + 1] - 1;
        double latest = double.NegativeInfinity;
        for (int q = start; q < end; q++)
        {
            EntryOrder[q] = q;
            PastMoment[q] = closing;
            key[q] = -times.Entry[Row[q]];
            latest = Math.Max(latest, -key[q]);
        }
        RemovedEnd.AsSpan(MomentStart[stratum], closing - MomentStart[stratum]).Fill(start);
        if (closing == MomentStart[stratum] || latest < Time[closing - 1])
            return;
        HasLateEntry = true;
        Array.Sort(key, EntryOrder, start, end - start);
        int moment = MomentStart[stratum];
        for (int e = start; e < end; e++)
        {
            while (Time[moment] > -key[e])
                RemovedEnd[moment++] = e;
            PastMoment[EntryOrder[e]] = moment;
        }
        while (moment < closing)
            RemovedEnd[moment++] = end;
    }
}
