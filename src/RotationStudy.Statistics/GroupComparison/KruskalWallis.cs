namespace RotationStudy.Statistics.GroupComparison;

/// <summary>Whether several independent groups have the same distribution, by ranks.</summary>
/// <remarks>
/// <para><b>Equation</b>: H = [12 / (n (n+1)) sum R_g^2 / n_g - 3 (n+1)] / [1 - sum (t^3 - t) / (n^3 - n)], chi-square
/// on k - 1 degrees of freedom, an approximation that needs about five values per group.</para>
/// <para><b>Sources</b>: Kruskal WH, Wallis WA. J Am Stat Assoc 1952;47:583-621. <b>Checked against</b>:
/// GroupComparison/classics.</para>
/// </remarks>
public static class KruskalWallis
{
    /// <summary>Tests the groups.</summary>
    /// <exception cref="TooFewDataError">Fewer than two groups, an empty group, or values that are all the same.</exception>
    /// <exception cref="InvalidInputError">A value that is no number.</exception>
    public static TestResult Test(IReadOnlyList<IReadOnlyList<double>> groups)
    {
        if (groups.Count < 2 || groups.Any(g => g.Count == 0))
            throw new TooFewDataError(
                "an empty group, or a single one, cannot be compared",
                "Give two groups or more with a value in each.");
        double[] all = [.. groups.SelectMany(g => g)];
        Require.Finite(all, "values");
        Ranks ranks = Ranks.Of(all);
        double n = all.Length;
        double ties = 1 - (ranks.TieSum / ((n * n * n) - n));
        if (!(ties > 0))
            throw new TooFewDataError("all values are the same, so they have no ranks", "Report that the groups do not differ.");
        double sum = 0;
        int at = 0;
        foreach (IReadOnlyList<double> group in groups)
        {
            double rankSum = 0;
            for (int i = 0; i < group.Count; i++)
                rankSum += ranks.Values[at++];
            sum += rankSum * rankSum / group.Count;
        }
        double h = ((12 / (n * (n + 1)) * sum) - (3 * (n + 1))) / ties;
        int df = groups.Count - 1;
        return TestResult.ChiSquare("Kruskal-Wallis chi-square", h, df);
    }
}
