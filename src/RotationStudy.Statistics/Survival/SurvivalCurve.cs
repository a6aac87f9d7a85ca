namespace RotationStudy.Statistics.Survival;

/// <summary>One step of a survival curve: what holds from its time on.</summary>
/// <param name="Time">Time of the step, in the unit of the follow-up.</param>
/// <param name="AtRisk">Rows at risk just before it.</param>
/// <param name="Events">Events at it.</param>
/// <param name="Survival">Probability of no event up to and at this time.</param>
/// <param name="StandardError">Its standard error.</param>
/// <param name="Interval">Pointwise interval.</param>
public readonly record struct SurvivalStep(double Time, int AtRisk, int Events, double Survival, double StandardError, ConfidenceInterval Interval);

/// <summary>A time by which a share of rows has had the event; infinite where the curve does not fall that far.</summary>
/// <param name="Value">The time, infinite where not reached.</param>
/// <param name="Interval">Times at which the bounds of the curve cross; a bound may be infinite.</param>
public readonly record struct SurvivalQuantile(double Value, ConfidenceInterval Interval);

/// <summary>An estimated survival curve: right-continuous, constant between steps, one before the first.</summary>
public sealed class SurvivalCurve
{
    private readonly FollowUpCounts followUp;
    private readonly double level;

    internal SurvivalCurve(string name, IReadOnlyList<SurvivalStep> steps, double[] entries, double[] exits, IReadOnlyList<double> censoringTimes, string varianceMethod, double level)
    {
        Name = name;
        Steps = steps;
        followUp = new FollowUpCounts(entries, exits);
        CensoringTimes = censoringTimes;
        VarianceMethod = varianceMethod;
        this.level = level;
    }

    /// <summary>Name of the group; empty for a single curve.</summary>
    public string Name { get; }

    /// <summary>The steps, earliest first; empty when there was no event.</summary>
    public IReadOnlyList<SurvivalStep> Steps { get; }

    /// <summary>Distinct times at which rows were censored, earliest first: the marks on a drawn curve.</summary>
    public IReadOnlyList<double> CensoringTimes { get; }

    /// <summary>How the standard errors were reached, with the transform of the intervals.</summary>
    public string VarianceMethod { get; }

    /// <summary>Rows behind the curve.</summary>
    public int Rows => followUp.Rows;

    /// <summary>The last time at which any row was observed; the curve says nothing beyond it.</summary>
    public double LastTime => followUp.LastTime;

    /// <summary>The curve at a time.</summary>
    /// <exception cref="InvalidInputError">The time lies beyond the last follow-up while the curve is above zero.</exception>
    public SurvivalStep At(double time)
    {
        int index = FollowUpCounts.Count(Steps, time, static (step, t) => step.Time <= t) - 1;
        SurvivalStep step = index < 0 ? new SurvivalStep(time, 0, 0, 1, 0, new ConfidenceInterval(1, 1, level)) : Steps[index];
        if (!(time <= LastTime) && !(step.Survival == 0))
        {
            throw new InvalidInputError(
                $"the curve is asked for at {time}, but follow-up ends at {LastTime}",
                "Ask for a time within the follow-up of the group.");
        }
        return step with { Time = time, AtRisk = NumberAtRisk(time), Events = 0 };
    }

    /// <summary>Rows at risk just before a time: entered before it and still observed at it.</summary>
    public int NumberAtRisk(double time) => followUp.AtRisk(time);

    /// <summary>Rows at risk just before each of several times, for the table under a figure.</summary>
    public IReadOnlyList<int> NumbersAtRisk(IReadOnlyList<double> times) => [.. times.Select(NumberAtRisk)];

    /// <summary>The median time to the event.</summary>
    public SurvivalQuantile Median => Quantile(0.5);

    /// <summary>The time by which a share of rows has had the event, with the interval of Brookmeyer and Crowley (1982).</summary>
    /// <param name="share">Share with the event, between 0 and 1: 0.5 for the median.</param>
    /// <remarks>Where the curve runs level at exactly one minus the share, the middle of the level stretch (common practice).</remarks>
    public SurvivalQuantile Quantile(double share)
    {
        Require.Probability(share, "share");
        double value = Crossing(share, static s => s.Survival);
        double lower = Crossing(share, static s => s.Interval.Lower);
        double upper = Crossing(share, static s => s.Interval.Upper);
        return new SurvivalQuantile(value, new ConfidenceInterval(lower, upper, level));
    }

    private double Crossing(double share, Func<SurvivalStep, double> height)
    {
        const double Rounding = 1e-12;
        double target = 1 - share;
        for (int i = 0; i < Steps.Count; i++)
        {
            double at = height(Steps[i]);
            if (Math.Abs(at - target) < Rounding)
                return i + 1 < Steps.Count ? 0.5 * (Steps[i].Time + Steps[i + 1].Time) : Steps[i].Time;
            if (at < target)
                return Steps[i].Time;
        }
        return double.PositiveInfinity;
    }
}
