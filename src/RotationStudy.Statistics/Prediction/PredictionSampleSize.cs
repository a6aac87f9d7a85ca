namespace RotationStudy.Statistics.Prediction;

/// <summary>What is expected of a model for a yes/no outcome before it is developed.</summary>
/// <param name="Parameters">Parameters considered, those that a selection may drop included.</param>
/// <param name="Share">Expected share with the outcome, between 0 and 1.</param>
/// <param name="ExplainedVariation">Expected R squared of Cox and Snell.</param>
public sealed record ExpectedModel(int Parameters, double Share, double ExplainedVariation)
{
    /// <summary>The largest R squared of Cox and Snell that a model can reach at this share.</summary>
    public double LargestExplainedVariation
        => 1 - Math.Exp(2 * ((Share * Math.Log(Share)) + ((1 - Share) * Math.Log(1 - Share))));

    /// <summary>From R squared of Nagelkerke, which is relative to the largest possible.</summary>
    public static ExpectedModel FromNagelkerke(int parameters, double share, double nagelkerke)
    {
        ExpectedModel at = new(parameters, share, 0);
        return at with { ExplainedVariation = nagelkerke * at.LargestExplainedVariation };
    }
}

/// <summary>How many independent rows each criterion asks for.</summary>
/// <param name="Shrinkage">For an expected shrinkage of 0.9 or more.</param>
/// <param name="Optimism">For an optimism of 0.05 or less in R squared of Nagelkerke.</param>
/// <param name="OverallRisk">For the overall risk to be known to within 0.05.</param>
/// <param name="PredictionError">For a mean absolute error of predicted risks of 0.05 or less.</param>
/// <param name="Rows">The largest of them.</param>
/// <param name="Events">Events expected among that many rows.</param>
/// <param name="EventsPerParameter">The same per parameter.</param>
public sealed record PredictionSample(int Shrinkage, int Optimism, int OverallRisk, int PredictionError, int Rows, double Events, double EventsPerParameter);

/// <summary>Smallest sample to develop a model for a yes/no outcome, by the criteria of Riley and others.</summary>
/// <remarks>
/// <para>With p parameters, R squared R of Cox and Snell and share f: (1) n = p / ((S - 1) ln(1 - R / S)) with S = 0.9; (2) the same with S = R /
/// (R + 0.05 max R); (3) n = (1.96 / 0.05)^2 f (1 - f); (4) n = exp((-0.508 + 0.259 ln f + 0.504 ln p - ln 0.05) / 0.544), an
/// approximation found by simulation for maximum likelihood (van Smeden 2019). Numbers are rounded up.</para>
/// <para>All suppose independent rows: of two rows of a person the number counts persons rather than rows, to be cautious.</para>
/// <para><b>Sources</b>: Riley RD et al. Stat Med 2019;38:1276-1296; Riley RD et al. BMJ 2020;368:m441; van Smeden M et al. Stat Methods Med Res
/// 2019;28:2455-2474 (formulas recalled; those of criteria 1 to 3 compared with a stored page of an open library). <b>Checked
/// against</b>: the worked examples of these papers.</para>
/// </remarks>
public static class PredictionSampleSize
{
    private const double Shrinkage = 0.9;
    private const double Margin = 0.05;

    /// <summary>The four numbers and the largest of them.</summary>
    /// <param name="expected">What is expected of the model.</param>
    /// <exception cref="InvalidInputError">No parameter, a share outside 0 to 1, or an R squared that cannot be reached.</exception>
    public static PredictionSample For(ExpectedModel expected)
    {
        Require.Probability(expected.Share, "share");
        double r = expected.ExplainedVariation;
        double largest = expected.LargestExplainedVariation;
        if (expected.Parameters < 1)
            throw new InvalidInputError($"{expected.Parameters} parameters make no model", "Count every column but the intercept.");
        if (!(r > 0 && r < largest && r < Shrinkage))
            throw new InvalidInputError(FormattableString.Invariant($"an R squared of {r} cannot be expected where the largest possible is {largest:0.###}"), "Give R squared of Cox and Snell, or that of Nagelkerke by its own name.");
        double needed = r / (r + (Margin * largest));
        int[] rows =
        [
            ForShrinkage(expected.Parameters, r, Shrinkage),
            ForShrinkage(expected.Parameters, r, needed),
            Up(Math.Pow(1.96 / Margin, 2) * expected.Share * (1 - expected.Share)),
            Up(Math.Exp((-0.508 + (0.259 * Math.Log(expected.Share)) + (0.504 * Math.Log(expected.Parameters)) - Math.Log(Margin)) / 0.544)),
        ];
        int most = rows.Max();
        double events = most * expected.Share;
        return new PredictionSample(rows[0], rows[1], rows[2], rows[3], most, events, events / expected.Parameters);
    }

    private static int ForShrinkage(int parameters, double r, double shrinkage)
        => Up(parameters / ((shrinkage - 1) * Math.Log(1 - (r / shrinkage))));

    // A number that is whole but for rounding is not raised by one.
    private static int Up(double rows) => (int)Math.Ceiling(rows - 1e-9);
}
