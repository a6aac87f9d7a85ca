using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Regression;

/// <summary>How an outcome may behave, which decides when a maximum lies at infinity.</summary>
internal enum OutcomeKind
{
    /// <summary>0 or 1 under a logit: it may be split from both sides.</summary>
    Binary,

    /// <summary>A count (or 0 and 1) under a log link: only rows of zeros may be split off.</summary>
    Count,
}

/// <summary>Outcome, offset and case weights of a generalized linear model, checked once at the door.</summary>
internal sealed class GeneralizedLinearData
{
    private static readonly double[] SmallLogFactorials = [.. Enumerable.Range(0, 256).Select(k => StableMath.LogGamma(k + 1.0))];

    private readonly double[] outcome;
    private readonly double[] offset;
    private readonly double[] weights;

    private GeneralizedLinearData(OutcomeKind kind, bool binary, double[] outcome, double[] offset, double[] weights)
    {
        Kind = kind;
        IsBinary = binary;
        this.outcome = outcome;
        this.offset = offset;
        this.weights = weights;
        double total = 0;
        double events = 0;
        for (int i = 0; i < outcome.Length; i++)
        {
            double weight = weights.Length == 0 ? 1 : weights[i];
            total += weight;
            events += weight * outcome[i];
        }
        TotalWeight = total;
        Events = events;
    }

    /// <summary>What kind of outcome this is.</summary>
    internal OutcomeKind Kind { get; }

    /// <summary>Whether every outcome is 0 or 1.</summary>
    internal bool IsBinary { get; }

    /// <summary>What the log-likelihood leaves out while it is maximised: minus the sum of log y! for counts.</summary>
    internal double LogLikelihoodConstant { get; private init; }

    /// <summary>The outcome, n values.</summary>
    internal ReadOnlySpan<double> Outcome => outcome;

    /// <summary>The offset, n values or none.</summary>
    internal ReadOnlySpan<double> Offset => offset;

    /// <summary>Case weights, n values or none (every row once).</summary>
    internal ReadOnlySpan<double> Weights => weights;

    /// <summary>Sum of the case weights: the number of observations that the rows stand for.</summary>
    internal double TotalWeight { get; }

    /// <summary>Weighted sum of the outcome: how many events.</summary>
    internal double Events { get; }

    /// <summary>Checks and copies the outcome and what comes with it.</summary>
    /// <exception cref="InvalidInputError">Unequal lengths, NaN or infinity, an outcome outside its range, a negative weight.</exception>
    /// <exception cref="TooFewDataError">Fewer rows than columns, no event, or events only.</exception>
    internal static GeneralizedLinearData Check(
        DesignMatrix x, OutcomeKind kind, bool binary, ReadOnlySpan<double> outcome, ReadOnlySpan<double> offset, ReadOnlySpan<double> weights)
    {
        Require.SameLength(outcome.Length, x.Rows, "outcome");
        Require.Finite(outcome, "outcome");
        RequireRange(outcome, binary);
        if (!offset.IsEmpty)
        {
            Require.SameLength(offset.Length, x.Rows, "offset");
            Require.Finite(offset, "offset");
        }
        if (!weights.IsEmpty)
        {
            Require.SameLength(weights.Length, x.Rows, "weights");
            Require.Finite(weights, "weights");
            Require.AtLeast(weights, 0, "weights");
        }
        GeneralizedLinearData data = new(kind, binary, outcome.ToArray(), offset.ToArray(), weights.ToArray())
        {
            LogLikelihoodConstant = binary ? 0 : MinusLogFactorials(outcome, weights),
        };
        RequireEnough(x, data, binary);
        return data;
    }

    /// <summary>The same outcome and offset under other case weights, as in a resample.</summary>
    /// <exception cref="TooFewDataError">Too little is left.</exception>
    internal GeneralizedLinearData Reweighted(DesignMatrix x, double[] other)
    {
        GeneralizedLinearData data = new(Kind, IsBinary, outcome, offset, other)
        {
            LogLikelihoodConstant = IsBinary ? 0 : MinusLogFactorials(outcome, other),
        };
        RequireEnough(x, data, IsBinary);
        return data;
    }

    private static double LogFactorial(double count)
        => count < SmallLogFactorials.Length ? SmallLogFactorials[(int)count] : StableMath.LogGamma(count + 1);

    private static double MinusLogFactorials(ReadOnlySpan<double> counts, ReadOnlySpan<double> weights)
    {
        double sum = 0;
        for (int i = 0; i < counts.Length; i++)
        {
            if (counts[i] > 1)
                sum -= (weights.IsEmpty ? 1 : weights[i]) * LogFactorial(counts[i]);
        }
        return sum;
    }

    private static void RequireRange(ReadOnlySpan<double> outcome, bool binary)
    {
        for (int i = 0; i < outcome.Length; i++)
        {
            if (binary && outcome[i] is not (0 or 1))
                throw new InvalidInputError(FormattableString.Invariant($"'outcome' holds {outcome[i]} in row {i}, neither 0 nor 1"), "Code the event as 1 and its absence as 0.", i, "outcome");
            if (!binary && (outcome[i] < 0 || outcome[i] != Math.Floor(outcome[i])))
                throw new InvalidInputError(FormattableString.Invariant($"'outcome' holds {outcome[i]} in row {i}, which is no count"), "Give whole numbers from zero.", i, "outcome");
        }
    }

    private static void RequireEnough(DesignMatrix x, GeneralizedLinearData data, bool binary)
    {
        int used = 0;
        bool anyEvent = false;
        bool anyWithout = false;
        for (int i = 0; i < x.Rows; i++)
        {
            if (data.weights.Length > 0 && data.weights[i] == 0)
                continue;
            used++;
            anyEvent |= data.outcome[i] > 0;
            anyWithout |= data.outcome[i] == 0;
        }
        if (used < x.Columns)
            throw new TooFewDataError($"{used} rows cannot carry {x.Columns} coefficients", "Use fewer columns.");
        if (!anyEvent)
            throw new TooFewDataError("the outcome has no event", "No rate or odds can be modelled; give the exact interval of a zero count instead.");
        if (binary && !anyWithout)
            throw new TooFewDataError("every row has the event", "No odds or risk can be modelled where nothing varies.");
    }
}
