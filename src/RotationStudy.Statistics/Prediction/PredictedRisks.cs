namespace RotationStudy.Statistics.Prediction;

/// <summary>Outcomes with predicted probabilities, checked once, and the clusters that rows belong to.</summary>
public sealed class PredictedRisks
{
    private readonly bool[] outcome;
    private readonly double[] risk;

    private PredictedRisks(bool[] outcome, double[] risk, Clusters clusters)
    {
        this.outcome = outcome;
        this.risk = risk;
        Clusters = clusters;
        Events = outcome.Count(o => o);
    }

    /// <summary>Number of rows.</summary>
    public int Rows => risk.Length;

    /// <summary>Number of events.</summary>
    public int Events { get; }

    /// <summary>Clusters of dependent rows.</summary>
    public Clusters Clusters { get; }

    /// <summary>Whether the event happened, per row.</summary>
    public ReadOnlySpan<bool> Outcome => outcome;

    /// <summary>Predicted probability, per row.</summary>
    public ReadOnlySpan<double> Risk => risk;

    /// <summary>Joins outcomes and probabilities; without clusters every row stands alone.</summary>
    /// <exception cref="InvalidInputError">Unequal lengths, a probability outside 0 to 1.</exception>
    /// <exception cref="TooFewDataError">No event, or nothing but events.</exception>
    public static PredictedRisks From(IReadOnlyList<bool> outcome, IReadOnlyList<double> risk, Clusters? clusters = null)
    {
        bool[] o = [.. outcome];
        double[] r = [.. risk];
        Require.SameLength(r.Length, o.Length, "risk");
        for (int i = 0; i < r.Length; i++)
        {
            if (!(r[i] >= 0 && r[i] <= 1))
                throw new InvalidInputError($"a predicted risk of {r[i]} in row {i} does not lie in 0 to 1", "Give probabilities, not linear predictors.", i, "risk");
        }
        clusters ??= Clusters.EachRow(r.Length);
        Require.SameLength(clusters.Rows, r.Length, "clusters");
        PredictedRisks result = new(o, r, clusters);
        if (result.Events == 0 || result.Events == r.Length)
            throw new TooFewDataError($"{result.Events} of {r.Length} rows have the event", "Prediction is judged on rows with and without it.");
        return result;
    }

    /// <summary>The mean of a value per row with the standard error that lets rows of a cluster depend: G/(G-1) times the sum of squared cluster totals of deviations, over n squared.</summary>
    internal (double Mean, double StandardError) ClusterMean(ReadOnlySpan<double> values)
    {
        double mean = 0;
        foreach (double v in values)
            mean += v / values.Length;
        double squares = 0;
        for (int c = 0; c < Clusters.Count; c++)
        {
            double total = 0;
            foreach (int i in Clusters.Members(c))
                total += values[i] - mean;
            squares += total * total;
        }
        double groups = Clusters.Count;
        return (mean, groups < 2 ? double.PositiveInfinity : Math.Sqrt(groups / (groups - 1) * squares) / values.Length);
    }
}
