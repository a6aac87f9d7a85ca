namespace RotationStudy.Statistics.Survival;

/// <summary>Follow-up of n rows: when each came under observation, when it left, and whether it left by the event.</summary>
/// <remarks>
/// A row is at risk at time t when entry &lt; t &lt;= exit (an interval open on the left and closed on the right), so a row
/// censored at t is still at risk of an event at t. A unit whose covariates change, or that may have several events, gives
/// several rows with adjoining intervals. Unit of time: any, the same for all rows. Values are checked here, once.
/// </remarks>
public sealed class SurvivalTimes
{
    private readonly double[] entry;
    private readonly double[] exit;
    private readonly bool[] isEvent;

    private SurvivalTimes(double[] entry, double[] exit, bool[] isEvent)
    {
        this.entry = entry;
        this.exit = exit;
        this.isEvent = isEvent;
        foreach (bool happened in isEvent)
            EventCount += happened ? 1 : 0;
    }

    /// <summary>Number of rows, n.</summary>
    public int Rows => exit.Length;

    /// <summary>Number of rows that end with the event.</summary>
    public int EventCount { get; }

    /// <summary>Start of observation per row, exclusive; zero for right-censored data.</summary>
    public ReadOnlySpan<double> Entry => entry;

    /// <summary>End of observation per row, inclusive.</summary>
    public ReadOnlySpan<double> Exit => exit;

    /// <summary>Whether the row's observation ended with the event.</summary>
    public ReadOnlySpan<bool> IsEvent => isEvent;

    /// <summary>Follow-up from time zero to an event or to censoring.</summary>
    /// <param name="times">Time of the event or of the end of follow-up, above zero; length n.</param>
    /// <param name="events">True where the time is that of the event; length n.</param>
    /// <exception cref="InvalidInputError">Unequal lengths, no rows, NaN or infinity, or a time of zero or less (the row is named).</exception>
    public static SurvivalTimes RightCensored(IReadOnlyList<double> times, IReadOnlyList<bool> events)
        => CountingProcess(new double[times.Count], times, events);

    /// <summary>Follow-up in intervals (entry, exit]: delayed entry, changing covariates, recurrent events.</summary>
    /// <param name="entry">Start of the interval, exclusive; length n.</param>
    /// <param name="exit">End of the interval, inclusive, above the entry; length n.</param>
    /// <param name="events">True where the interval ends with the event; length n.</param>
    /// <exception cref="InvalidInputError">Unequal lengths, no rows, NaN or infinity, or an interval without length (the row is named).</exception>
    public static SurvivalTimes CountingProcess(IReadOnlyList<double> entry, IReadOnlyList<double> exit, IReadOnlyList<bool> events)
    {
        int n = exit.Count;
        if (n == 0)
            throw new InvalidInputError("there are no rows of follow-up", "Give at least one row.");
        Require.SameLength(entry.Count, n, "entry");
        Require.SameLength(events.Count, n, "events");
        double[] from = [.. entry];
        double[] to = [.. exit];
        Require.Finite(from, "entry");
        Require.Finite(to, "exit");
        for (int i = 0; i < n; i++)
        {
            if (!(from[i] < to[i]))
            {
                throw new InvalidInputError(
                    $"row {i} is followed from {from[i]} to {to[i]}, an interval without length",
                    "Follow-up must end after it starts; leave out rows without follow-up and correct dates that run backwards.",
                    i,
                    "exit");
            }
        }
        return new SurvivalTimes(from, to, [.. events]);
    }

    /// <summary>The follow-up of some rows, in the order given; a row may be named more than once.</summary>
    public SurvivalTimes SelectRows(ReadOnlySpan<int> rows)
    {
        double[] from = new double[rows.Length];
        double[] to = new double[rows.Length];
        bool[] happened = new bool[rows.Length];
        for (int i = 0; i < rows.Length; i++)
        {
            from[i] = entry[rows[i]];
            to[i] = exit[rows[i]];
            happened[i] = isEvent[rows[i]];
        }
        return new SurvivalTimes(from, to, happened);
    }
}
