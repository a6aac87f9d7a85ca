using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Mixed;

/// <summary>What would the fixed effects of a linear mixed model be without each group in turn? Its variances are held.</summary>
/// <remarks>
/// With V_i the covariance of the rows of group i, the fixed effects are (sum of X_i' V_i^-1 X_i)^-1 (sum of X_i' V_i^-1 y_i). Leaving
/// a group out takes its two summands away; all groups take one factorisation each.
/// <para>Variances stay as estimated from all rows. Estimating them anew as well would move the effects a little further, at the
/// cost of an optimisation for each group; where every group has the same rows, the fixed effects do not depend on them and the two agree.</para>
/// <para>Edges: a group without which a column carries no information has no value (null). Terms that cross the groups of the
/// first term tie all groups together and are refused.</para>
/// <para><b>Source</b>: Christensen R, Pearson LM and Johnson W, Technometrics 1992;34:38-45 (recalled, not re-read).</para>
/// <para><b>Checked against</b>: the fit itself, whose fixed effects the summands of all groups give back; fits anew in a balanced layout.</para>
/// </remarks>
public static class MixedInfluence
{
    /// <summary>The fixed effects without each group of the model's first term, in the order of its groups.</summary>
    /// <param name="fit">The fit.</param>
    /// <returns>For each group p values in the order of the coefficients; null where the other groups do not give them.</returns>
    /// <exception cref="InvalidInputError">A term whose groups do not lie within those of the first.</exception>
    public static IReadOnlyList<IReadOnlyList<double>?> WithoutEachGroup(LinearMixedModelFit fit)
    {
        RequireNested(fit);
        double[][] covariances = [.. fit.Terms.Select(t => Covariance(fit, t))];
        Clusters groups = fit.Terms[0].Groups;
        int p = fit.Design.Columns;
        (double[] Information, double[] Score)[] parts = new (double[], double[])[groups.Count];
        double[] information = new double[p * p];
        double[] score = new double[p];
        for (int g = 0; g < parts.Length; g++)
        {
            parts[g] = Summands(fit, covariances, groups.Members(g));
            Add(information, parts[g].Information, 1);
            Add(score, parts[g].Score, 1);
        }
        return [.. parts.Select(part => Without(information, score, part, fit.Design.Names))];
    }

    private static double[]? Without(double[] information, double[] score, (double[] Information, double[] Score) part, IReadOnlyList<string> names)
    {
        double[] restInformation = [.. information];
        double[] restScore = [.. score];
        Add(restInformation, part.Information, -1);
        Add(restScore, part.Score, -1);
        try
        {
            return SmallCholesky.Factor(restInformation, restScore.Length, names).Solve(restScore);
        }
        catch (RankDeficientError)
        {
            return null;
        }
    }

    /// <summary>X' V^-1 X and X' V^-1 y of the rows of one group.</summary>
    private static (double[] Information, double[] Score) Summands(LinearMixedModelFit fit, double[][] covariances, ReadOnlySpan<int> rows)
    {
        int n = rows.Length;
        int p = fit.Design.Columns;
        double[] variance = new double[n * n];
        for (int a = 0; a < n; a++)
        {
            for (int b = 0; b < n; b++)
                variance[(a * n) + b] = RowCovariance(fit, covariances, rows[a], rows[b]);
        }
        SmallCholesky factor = SmallCholesky.Factor(variance, n, [.. Enumerable.Range(0, n).Select(i => $"row {i} of the group")]);
        double[] information = new double[p * p];
        double[] score = new double[p];
        double[] solved = new double[n];
        for (int j = 0; j < p; j++)
        {
            for (int a = 0; a < n; a++)
                solved[a] = fit.Design[rows[a], j];
            factor.SolveInPlace(solved);
            for (int a = 0; a < n; a++)
            {
                score[j] += solved[a] * fit.Outcome[rows[a]];
                for (int l = 0; l < p; l++)
                    information[(j * p) + l] += solved[a] * fit.Design[rows[a], l];
            }
        }
        return (information, score);
    }

    private static double RowCovariance(LinearMixedModelFit fit, double[][] covariances, int row, int other)
    {
        double sum = row == other ? fit.ResidualVariance : 0;
        for (int t = 0; t < covariances.Length; t++)
        {
            RandomTerm term = fit.Terms[t];
            if (term.Groups.ClusterOfRow[row] != term.Groups.ClusterOfRow[other])
                continue;
            int q = term.Size;
            for (int a = 0; a < q; a++)
            {
                for (int b = 0; b < q; b++)
                    sum += term.Multiplier(row, a) * covariances[t][(a * q) + b] * term.Multiplier(other, b);
            }
        }
        return sum;
    }

    /// <summary>The covariance matrix of a term's effects.</summary>
    private static double[] Covariance(LinearMixedModelFit fit, RandomTerm term)
    {
        int q = term.Size;
        double[] matrix = new double[q * q];
        string[] names = [.. Enumerable.Range(0, q).Select(term.ColumnName)];
        foreach (VarianceComponent component in fit.VarianceComponents.Where(c => c.Term == term.Name))
        {
            int a = Array.IndexOf(names, component.Column);
            int b = component.OtherColumn is { } other ? Array.IndexOf(names, other) : a;
            matrix[(a * q) + b] = matrix[(b * q) + a] = component.Value;
        }
        return matrix;
    }

    private static void RequireNested(LinearMixedModelFit fit)
    {
        Clusters first = fit.Terms[0].Groups;
        foreach (RandomTerm term in fit.Terms.Skip(1))
        {
            for (int g = 0; g < term.Groups.Count; g++)
            {
                foreach (int row in term.Groups.Members(g))
                {
                    if (first.ClusterOfRow[row] != first.ClusterOfRow[term.Groups.Members(g)[0]])
                    {
                        throw new InvalidInputError(
                            $"a group of '{term.Name}' lies in several groups of '{fit.Terms[0].Name}'", "Fit the model anew without each group.", row, term.Name);
                    }
                }
            }
        }
    }

    private static void Add(double[] sum, double[] part, double sign)
    {
        for (int i = 0; i < sum.Length; i++)
            sum[i] += sign * part[i];
    }
}
