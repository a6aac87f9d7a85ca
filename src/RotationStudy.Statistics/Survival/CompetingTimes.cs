namespace RotationStudy.Statistics.Survival;

/// <summary>Follow-up of n rows that may end in one of several causes, the first of which to happen is seen.</summary>
/// <remarks>Causes are numbered from 1; 0 means censored. A row is at risk at t when entry &lt; t &lt;= exit, as in <see cref="SurvivalTimes"/>.</remarks>
public sealed class CompetingTimes
{
    private readonly int[] cause;

    private CompetingTimes(SurvivalTimes anyCause, int[] cause)
    {
        AnyCause = anyCause;
        this.cause = cause;
        foreach (int c in cause)
            Causes = Math.Max(Causes, c);
    }

    /// <summary>The same follow-up with every cause counted as the event.</summary>
    public SurvivalTimes AnyCause { get; }

    /// <summary>Number of rows, n.</summary>
    public int Rows => cause.Length;

    /// <summary>Number of causes: the largest cause seen.</summary>
    public int Causes { get; }

    /// <summary>Cause per row, 0 where censored.</summary>
    public ReadOnlySpan<int> Cause => cause;

    /// <summary>Follow-up from time zero.</summary>
    /// <param name="times">Time of the first event of any cause, or of censoring, above zero; length n.</param>
    /// <param name="causes">Cause from 1, or 0 where censored; length n.</param>
    /// <exception cref="InvalidInputError">Unequal lengths, no rows, NaN, a time of zero or less, or a negative cause (the row is named).</exception>
    public static CompetingTimes RightCensored(IReadOnlyList<double> times, IReadOnlyList<int> causes)
        => CountingProcess(new double[times.Count], times, causes);

    /// <summary>Follow-up in intervals (entry, exit].</summary>
    /// <param name="entry">Start of the interval, exclusive; length n.</param>
    /// <param name="exit">End of the interval, inclusive; length n.</param>
    /// <param name="causes">Cause from 1, or 0 where censored; length n.</param>
    /// <exception cref="InvalidInputError">Unequal lengths, no rows, NaN, an interval without length, or a negative cause (the row is named).</exception>
    public static CompetingTimes CountingProcess(IReadOnlyList<double> entry, IReadOnlyList<double> exit, IReadOnlyList<int> causes)
    {
        Require.SameLength(causes.Count, exit.Count, "causes");
        for (int i = 0; i < causes.Count; i++)
        {
            if (causes[i] < 0)
                throw new InvalidInputError($"row {i} has cause {causes[i]}", "Number causes from 1 and write 0 for censored.", i, "causes");
        }
        return new CompetingTimes(SurvivalTimes.CountingProcess(entry, exit, [.. causes.Select(c => c > 0)]), [.. causes]);
    }

    /// <summary>One cause as the event and the others as censoring, for cause-specific hazards.</summary>
    /// <exception cref="InvalidInputError">No such cause.</exception>
    public SurvivalTimes CauseSpecific(int which)
    {
        RequireCause(which);
        return SurvivalTimes.CountingProcess(AnyCause.Entry.ToArray(), AnyCause.Exit.ToArray(), [.. cause.Select(c => c == which)]);
    }

    /// <summary>The follow-up of some rows, in the order given; a row may be named more than once.</summary>
    public CompetingTimes SelectRows(ReadOnlySpan<int> rows)
    {
        int[] chosen = new int[rows.Length];
        for (int i = 0; i < rows.Length; i++)
            chosen[i] = cause[rows[i]];
        return new CompetingTimes(AnyCause.SelectRows(rows), chosen);
    }

    internal static void RequireCause(int which)
    {
        if (which < 1)
            throw new InvalidInputError($"cause {which} is asked for", "Causes are numbered from 1.");
    }
}
