using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.GroupComparison;

/// <summary>Fisher's exact test of a table of any size (Freeman and Halton's extension).</summary>
/// <param name="PValue">Probability, margins given, of all tables no more probable than the one seen.</param>
/// <param name="Exact">Whether the p value is exact; false for Monte Carlo.</param>
/// <param name="MonteCarloError">Standard error of a Monte-Carlo p value; zero when exact.</param>
/// <param name="Method">How it was reached, in words.</param>
/// <remarks>
/// <para><b>Exact</b> by passing through the columns one by one over the states of what is left of the row totals;
/// equal states meet in a hash table, and a branch ends as soon as all or none of its tables are as improbable as the
/// one seen. When this takes more than <see cref="WorkLimit"/> steps the p value is Monte Carlo: random tables with the
/// same margins from the stream of the seed given, p = (1 + as improbable) / (1 + drawn).</para>
/// <para>Probabilities that agree to one part in 10^7 count as equal. Rows and columns that are all zero are left out.</para>
/// <para><b>Sources</b>: Freeman GH, Halton JH. Biometrika 1951;38:141-149; Mehta CR, Patel NR. J Am Stat Assoc
/// 1983;78:427-434 (the network idea). <b>Checked against</b>: GroupComparison/classics.</para>
/// </remarks>
public sealed record FisherExactTable(double PValue, bool Exact, double MonteCarloError, string Method)
{
    /// <summary>Steps of the exact calculation before Monte Carlo takes over: about a second.</summary>
    public const long WorkLimit = 5_000_000;

    /// <summary>Tests a table.</summary>
    /// <param name="table">Counts.</param>
    /// <param name="seed">Seed of the Monte Carlo, used only when the table is too large for the exact calculation.</param>
    /// <param name="draws">Random tables of the Monte Carlo.</param>
    /// <exception cref="TooFewDataError">Only one row or column holds counts.</exception>
    /// <exception cref="InvalidInputError">No draw.</exception>
    public static FisherExactTable Of(ContingencyTable table, ulong seed, int draws = 100_000) => Of(table, seed, draws, WorkLimit);

    internal static FisherExactTable Of(ContingencyTable table, ulong seed, int draws, long workLimit)
    {
        if (draws < 1)
            throw new InvalidInputError($"{draws} draws give no p value", "Ask for 10,000 or more.");
        ContingencyTable used = table.WithoutEmpty();
        if (TableNetwork.PValue(used, workLimit) is double exact)
            return new FisherExactTable(exact, true, 0, "Fisher exact");
        double p = MonteCarlo(used, new RandomStream(seed, "Fisher exact test"), draws);
        return new FisherExactTable(p, false, Math.Sqrt(p * (1 - p) / draws), $"Fisher exact by Monte Carlo, {draws} tables");
    }

    // A random table with the margins of the one seen: the column labels of all rows, shuffled.
    private static double MonteCarlo(ContingencyTable table, RandomStream random, int draws)
    {
        double[] logFactorial = TableNetwork.LogFactorials(table.Total);
        int[] labels = new int[table.Total];
        int[] counts = new int[table.Rows * table.Columns];
        int at = 0;
        double seen = 0;
        for (int j = 0; j < table.Columns; j++)
        {
            labels.AsSpan(at, table.ColumnTotals[j]).Fill(j);
            at += table.ColumnTotals[j];
            for (int i = 0; i < table.Rows; i++)
                seen -= logFactorial[table[i, j]];
        }
        int asImprobable = 0;
        for (int draw = 0; draw < draws; draw++)
        {
            random.Shuffle(labels);
            Array.Clear(counts);
            at = 0;
            for (int i = 0; i < table.Rows; i++)
            {
                for (int k = 0; k < table.RowTotals[i]; k++)
                    counts[(i * table.Columns) + labels[at++]]++;
            }
            double probability = 0;
            foreach (int count in counts)
                probability -= logFactorial[count];
            asImprobable += probability <= seen + FisherExact.SameProbability ? 1 : 0;
        }
        return (1.0 + asImprobable) / (1.0 + draws);
    }
}
