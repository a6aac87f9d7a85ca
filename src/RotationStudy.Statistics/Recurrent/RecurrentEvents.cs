using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Recurrent;

/// <summary>What happened to one unit: observed from entry to end, with any number of events, and perhaps a terminal one.</summary>
/// <param name="Entry">Start of observation, exclusive; zero where observation starts with the clock.</param>
/// <param name="End">End of observation, inclusive.</param>
/// <param name="EventTimes">Times of the events, increasing, after the entry and up to the end.</param>
/// <param name="Terminal">Whether observation ended with an event after which no more can happen, rather than by censoring.</param>
public sealed record UnitHistory(double Entry, double End, IReadOnlyList<double> EventTimes, bool Terminal = false);

/// <summary>The histories of n units, checked once: the source of every risk set for recurrent events.</summary>
public sealed class RecurrentEvents
{
    private readonly UnitHistory[] histories;

    /// <summary>Checks and keeps the histories.</summary>
    /// <exception cref="InvalidInputError">No units, a history without length, or event times that are not increasing within it; the unit is named as the row.</exception>
    public RecurrentEvents(IReadOnlyList<UnitHistory> histories)
    {
        if (histories.Count == 0)
            throw new InvalidInputError("there are no units", "Give at least one history.");
        this.histories = [.. histories];
        for (int i = 0; i < this.histories.Length; i++)
        {
            UnitHistory unit = this.histories[i];
            if (!(double.IsFinite(unit.Entry) && double.IsFinite(unit.End) && unit.Entry < unit.End))
            {
                throw new InvalidInputError(
                    $"unit {i} is followed from {unit.Entry} to {unit.End}, an interval without length",
                    "Follow-up must end after it starts; leave out units without follow-up and correct dates that run backwards.",
                    i);
            }
            double before = unit.Entry;
            foreach (double time in unit.EventTimes)
            {
                if (!(time > before && time <= unit.End))
                {
                    throw new InvalidInputError(
                        $"unit {i} has an event at {time}, not after {before} and up to {unit.End}",
                        "Give event times in increasing order within the follow-up; two events of a unit need two times.",
                        i);
                }
                before = time;
                EventCount++;
            }
        }
    }

    /// <summary>Number of units, n.</summary>
    public int Units => histories.Length;

    /// <summary>Number of events of all units.</summary>
    public int EventCount { get; }

    /// <summary>The histories, in the order given.</summary>
    public IReadOnlyList<UnitHistory> Histories => histories;

    /// <summary>Time to the terminal event, one row per unit: recurrences neither end nor change its follow-up.</summary>
    public SurvivalTimes TerminalTimes => SurvivalTimes.CountingProcess(
        [.. histories.Select(h => h.Entry)],
        [.. histories.Select(h => h.End)],
        [.. histories.Select(h => h.Terminal)]);

    /// <summary>The histories of some units, in the order given; a unit may be named more than once.</summary>
    public RecurrentEvents SelectUnits(ReadOnlySpan<int> units)
    {
        UnitHistory[] chosen = new UnitHistory[units.Length];
        for (int i = 0; i < chosen.Length; i++)
            chosen[i] = histories[units[i]];
        return new RecurrentEvents(chosen);
    }

    /// <summary>Every unit cut at its events: one row per event and one for what follows the last.</summary>
    internal RiskRows CutAtEvents(bool gapTime, int lastNumber)
    {
        List<double> entry = [];
        List<double> exit = [];
        List<bool> happened = [];
        List<int> unit = [];
        List<int> number = [];
        for (int i = 0; i < histories.Length; i++)
        {
            UnitHistory history = histories[i];
            double from = history.Entry;
            for (int k = 0; k <= history.EventTimes.Count; k++)
            {
                double to = k < history.EventTimes.Count ? history.EventTimes[k] : history.End;
                if (!(to > from))
                    continue; // The last event closed the follow-up.
                entry.Add(gapTime ? 0 : from);
                exit.Add(gapTime ? to - from : to);
                happened.Add(k < history.EventTimes.Count);
                unit.Add(i);
                number.Add(Math.Min(k + 1, lastNumber));
                from = to;
            }
        }
        return new RiskRows(SurvivalTimes.CountingProcess(entry, exit, happened), [.. unit], [.. number]);
    }

    /// <summary>One row per unit and event number up to the last: time from entry to that event, whatever came before it.</summary>
    internal RiskRows MarginalRows(int lastNumber)
    {
        int n = histories.Length;
        double[] entry = new double[n * lastNumber];
        double[] exit = new double[n * lastNumber];
        bool[] happened = new bool[n * lastNumber];
        int[] unit = new int[n * lastNumber];
        int[] number = new int[n * lastNumber];
        for (int i = 0, row = 0; i < n; i++)
        {
            for (int k = 0; k < lastNumber; k++, row++)
            {
                happened[row] = k < histories[i].EventTimes.Count;
                entry[row] = histories[i].Entry;
                exit[row] = happened[row] ? histories[i].EventTimes[k] : histories[i].End;
                unit[row] = i;
                number[row] = k + 1;
            }
        }
        return new RiskRows(SurvivalTimes.CountingProcess(entry, exit, happened), unit, number);
    }
}

/// <summary>Rows at risk made from histories.</summary>
/// <param name="Times">Follow-up of the rows.</param>
/// <param name="Unit">The unit of each row.</param>
/// <param name="EventNumber">Which event of the unit each row waits for, from 1.</param>
internal sealed record RiskRows(SurvivalTimes Times, int[] Unit, int[] EventNumber)
{
    /// <summary>Fits the rows with units as the smallest clusters, or the clusters that units belong to.</summary>
    internal CoxFit Fit(RecurrentEvents events, DesignMatrix x, Clusters? clusters, bool byNumber, CoxOptions? options)
    {
        Require.SameLength(x.Rows, events.Units, "covariates");
        if (clusters is not null)
            Require.SameLength(clusters.Rows, events.Units, "clusters");
        return CoxRegression.Fit(
            Times,
            x.SelectRows(Unit),
            (clusters ?? Clusters.EachRow(events.Units)).SelectRows(Unit),
            byNumber ? Clusters.From(EventNumber) : null,
            options: options);
    }
}
