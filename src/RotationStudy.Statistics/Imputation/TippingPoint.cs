namespace RotationStudy.Statistics.Imputation;

/// <summary>The answer under one departure from missing at random.</summary>
/// <param name="Delta">The shift of what is missing.</param>
/// <param name="Result">The pooled answer under it.</param>
public sealed record DeltaResult(double Delta, PooledEstimate Result);

/// <summary>Answers under a range of departures, and where the conclusion tips.</summary>
/// <param name="Results">One per delta, ascending.</param>
/// <param name="Tipping">The delta nearest to zero at which the interval changes from excluding zero to holding it, or the reverse; null where it never does.</param>
public sealed record TippingPointResult(IReadOnlyList<DeltaResult> Results, double? Tipping);

/// <summary>Delta-adjusted sensitivity analysis: how far what is missing must differ from what the model predicts before the conclusion changes.</summary>
/// <remarks>
/// The imputation is repeated with missing values of one column shifted by each delta, with the same random stream, so that
/// the answers differ by delta alone. The tipping point is read from the deltas tried, not interpolated. Whether that delta is plausible is for the field to judge.
/// <b>Source.</b> van Buuren S, Flexible Imputation of Missing Data, 2nd ed., 2018, sec. 9.2; Cro S et al., Stat Med 2020;39:2815-2842. <b>Checked against</b> a case whose answer is linear in delta.
/// </remarks>
public static class TippingPoint
{
    /// <summary>Tries each delta.</summary>
    /// <param name="deltas">Shifts to try; zero must be among them.</param>
    /// <param name="analysis">Imputes with the shift, analyses, pools.</param>
    /// <exception cref="InvalidInputError">Zero is not among the deltas.</exception>
    public static TippingPointResult Search(IReadOnlyList<double> deltas, Func<double, PooledEstimate> analysis)
    {
        double[] sorted = [.. deltas.Distinct().Order()];
        Require.Finite(sorted, "deltas");
        if (!sorted.Contains(0))
            throw new InvalidInputError("zero is not among the deltas", "Include the answer under missing at random.");
        DeltaResult[] results = [.. sorted.Select(d => new DeltaResult(d, analysis(d)))];
        bool reference = HoldsZero(results.First(r => r.Delta == 0));
        double? tipping = results.Where(r => HoldsZero(r) != reference).OrderBy(r => Math.Abs(r.Delta)).Select(r => (double?)r.Delta).FirstOrDefault();
        return new TippingPointResult(results, tipping);
    }

    private static bool HoldsZero(DeltaResult result) => result.Result.Estimate.Interval.Lower <= 0 && result.Result.Estimate.Interval.Upper >= 0;
}
