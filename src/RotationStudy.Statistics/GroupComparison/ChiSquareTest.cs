namespace RotationStudy.Statistics.GroupComparison;

/// <summary>Pearson's chi-square test of association in a table of counts.</summary>
/// <param name="Test">Statistic, (r-1)(c-1) degrees of freedom, p value.</param>
/// <param name="SmallestExpected">Smallest expected count; under 5 the approximation is doubtful, and Fisher's exact
/// test is there.</param>
/// <remarks>
/// <para><b>Equation</b>: sum (O - E)^2 / E over cells. With Yates' continuity correction (2 by 2 only) |O - E| is
/// reduced by one half, but by no more than itself. Rows and columns that are all zero are left out.</para>
/// <para><b>Assumptions</b>: rows of the data are independent; two rows of one person are not.</para>
/// <para><b>Sources</b>: Pearson K. Philos Mag 1900;50:157-175; Yates F. Suppl J R Stat Soc 1934;1:217-235. <b>Checked
/// against</b>: GroupComparison/classics.</para>
/// </remarks>
public sealed record ChiSquareTest(TestResult Test, double SmallestExpected)
{
    /// <summary>Tests a table.</summary>
    /// <param name="table">Counts.</param>
    /// <param name="continuityCorrection">Whether to apply Yates' correction; 2 by 2 tables only.</param>
    /// <exception cref="InvalidInputError">A continuity correction for a larger table.</exception>
    /// <exception cref="TooFewDataError">Only one row or column holds counts.</exception>
    public static ChiSquareTest Of(ContingencyTable table, bool continuityCorrection = false)
    {
        if (continuityCorrection && (table.Rows != 2 || table.Columns != 2))
            throw new InvalidInputError("the continuity correction is for 2 by 2 tables", "Leave it out.");
        ContingencyTable used = table.WithoutEmpty();
        double statistic = 0;
        double smallest = double.PositiveInfinity;
        for (int i = 0; i < used.Rows; i++)
        {
            for (int j = 0; j < used.Columns; j++)
            {
                double expected = used.Expected(i, j);
                double distance = Math.Abs(used[i, j] - expected);
                if (continuityCorrection)
                    distance -= Math.Min(0.5, distance);
                statistic += distance * distance / expected;
                smallest = Math.Min(smallest, expected);
            }
        }
        int df = (used.Rows - 1) * (used.Columns - 1);
        string name = continuityCorrection ? "chi-square with continuity correction" : "chi-square";
        return new ChiSquareTest(TestResult.ChiSquare(name, statistic, df), smallest);
    }
}
