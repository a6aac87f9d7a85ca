namespace RotationStudy.Statistics.Survival;

/// <summary>One step of a cumulative incidence curve: what holds from its time on.</summary>
/// <param name="Time">Time of an event of any cause, in the unit of the follow-up.</param>
/// <param name="AtRisk">Rows at risk just before it.</param>
/// <param name="Events">Events of the curve's cause at it.</param>
/// <param name="Incidence">Share that has had the cause up to and at this time.</param>
/// <param name="StandardError">Its standard error.</param>
/// <param name="Interval">Pointwise interval.</param>
public readonly record struct IncidenceStep(double Time, int AtRisk, int Events, double Incidence, double StandardError, ConfidenceInterval Interval);

/// <summary>An estimated cumulative incidence: zero at first, rising in steps.</summary>
public sealed class CumulativeIncidenceCurve
{
    private readonly FollowUpCounts followUp;
    private readonly double level;

    internal CumulativeIncidenceCurve(string name, int cause, IReadOnlyList<IncidenceStep> steps, double[] entries, double[] exits, IReadOnlyList<double> censoringTimes, string varianceMethod, double level)
    {
        Name = name;
        Cause = cause;
        Steps = steps;
        followUp = new FollowUpCounts(entries, exits);
        CensoringTimes = censoringTimes;
        VarianceMethod = varianceMethod;
        this.level = level;
    }

    /// <summary>Name of the group; empty for a single curve.</summary>
    public string Name { get; }

    /// <summary>The cause, from 1.</summary>
    public int Cause { get; }

    /// <summary>The steps, earliest first: one per time with an event of any cause.</summary>
    public IReadOnlyList<IncidenceStep> Steps { get; }

    /// <summary>Distinct times at which rows were censored, earliest first.</summary>
    public IReadOnlyList<double> CensoringTimes { get; }

    /// <summary>How the standard errors were reached, with the transform of the intervals.</summary>
    public string VarianceMethod { get; }

    /// <summary>Rows behind the curve.</summary>
    public int Rows => followUp.Rows;

    /// <summary>The last time at which any row was observed; the curve says nothing beyond it.</summary>
    public double LastTime => followUp.LastTime;

    /// <summary>The curve at a time.</summary>
    /// <exception cref="InvalidInputError">The time lies beyond the last follow-up.</exception>
    public IncidenceStep At(double time)
    {
        if (!(time <= LastTime))
            throw new InvalidInputError($"the curve is asked for at {time}, but follow-up ends at {LastTime}", "Ask for a time within the follow-up of the group.");
        int index = FollowUpCounts.Count(Steps, time, static (step, t) => step.Time <= t) - 1;
        IncidenceStep found = index < 0 ? new IncidenceStep(time, 0, 0, 0, 0, new ConfidenceInterval(0, 0, level)) : Steps[index];
        return found with { Time = time, AtRisk = NumberAtRisk(time), Events = 0 };
    }

    /// <summary>Rows at risk just before a time.</summary>
    public int NumberAtRisk(double time) => followUp.AtRisk(time);

    /// <summary>Rows at risk just before each of several times, for the table under a figure.</summary>
    public IReadOnlyList<int> NumbersAtRisk(IReadOnlyList<double> times) => [.. times.Select(NumberAtRisk)];
}
