namespace RotationStudy.Statistics.Curves;

/// <summary>Likeness of repeated curves of each subject.</summary>
/// <param name="Values">Coefficient of each subject, in the order in which subjects appear; null where it has no value.</param>
/// <param name="Undefined">Subjects whose curves scatter more between trials than the mean curve moves: the root is of a negative number.</param>
/// <param name="Incomplete">Subjects without two curves free of gaps.</param>
/// <param name="Median">Median of the defined values; null where there is none.</param>
public sealed record MultipleCorrelationResult(IReadOnlyList<double?> Values, int Undefined, int Incomplete, double? Median);

/// <summary>Coefficient of multiple correlation of the trials of a subject: how alike repeated curves are beside how much the curve moves.</summary>
/// <remarks>
/// <para>For T trials on M points: the square is 1 less [sum of squares about the subject's mean curve / (M (T - 1))] over [sum of
/// squares about the subject's overall mean / (M T - 1)].</para>
/// <para>Limits that a reader must know: it rises with the range of the curve, so that a flat curve looks unreliable and a
/// steep one reliable with the same error; it has no value where trials scatter more than the curve moves, and leaving these
/// out flatters the median, so their number is told; it knows nothing of differences between subjects. The intraclass correlation and
/// the error in the unit of the curve (<see cref="CurveReliability"/>) have none of these.</para>
/// <para><b>Sources.</b> Kadaba MP et al., J Orthop Res 1989;7:849-860 (within a day; recalled, not re-read); Roislien J,
/// Skare O, Opheim A, Rennie L, Gait Posture 2012;36:516-518 (limits; recalled). <b>Checked against</b> a case by hand.</para>
/// </remarks>
public static class MultipleCorrelation
{
    /// <summary>Estimates the coefficient of every subject.</summary>
    /// <param name="curves">One row per trial.</param>
    /// <param name="subjects">The subject of each row.</param>
    /// <exception cref="TooFewDataError">No subject has two curves free of gaps, or the grid has one point.</exception>
    public static MultipleCorrelationResult Estimate(CurveSet curves, IReadOnlyList<int> subjects)
    {
        Require.SameLength(subjects.Count, curves.Rows, "subjects");
        if (curves.Points < 2)
            throw new TooFewDataError("a grid of one point has no curve", "Give two points at the very least.");
        List<double?> values = [];
        int undefined = 0;
        int incomplete = 0;
        foreach (IGrouping<int, int> rows in Enumerable.Range(0, curves.Rows).GroupBy(r => subjects[r]))
        {
            int[] complete = [.. rows.Where(r => IsComplete(curves, r))];
            double? square = complete.Length < 2 ? null : Square(curves, complete);
            incomplete += complete.Length < 2 ? 1 : 0;
            undefined += square < 0 ? 1 : 0;
            values.Add(square is >= 0 ? Math.Sqrt(square.Value) : null);
        }
        if (incomplete == values.Count)
            throw new TooFewDataError("no subject has two curves free of gaps", "Record two trials of each.");
        double[] sorted = [.. values.OfType<double>().Order()];
        double? median = sorted.Length == 0 ? null : (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
        return new MultipleCorrelationResult(values, undefined, incomplete, median);
    }

    private static bool IsComplete(CurveSet curves, int row)
    {
        for (int j = 0; j < curves.Points; j++)
        {
            if (double.IsNaN(curves.At(row, j)))
                return false;
        }
        return true;
    }

    /// <summary>The square; it may be negative. Curves that do not vary at all agree: one.</summary>
    private static double Square(CurveSet curves, int[] rows)
    {
        int m = curves.Points;
        int t = rows.Length;
        double overall = rows.Sum(r => Enumerable.Range(0, m).Sum(j => curves.At(r, j))) / (m * t);
        double within = 0;
        double total = 0;
        for (int j = 0; j < m; j++)
        {
            double mean = rows.Sum(r => curves.At(r, j)) / t;
            foreach (int r in rows)
            {
                within += (curves.At(r, j) - mean) * (curves.At(r, j) - mean);
                total += (curves.At(r, j) - overall) * (curves.At(r, j) - overall);
            }
        }
        return total == 0 ? 1 : 1 - (within / (m * (t - 1.0)) / (total / ((m * t) - 1.0)));
    }
}
