using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>
/// By how much the dependence among columns widens the variance of a coefficient, or of a group of coefficients.
/// </summary>
/// <param name="Terms">The coefficients of the group: one column, or the columns of one spline or category.</param>
/// <param name="Factor">Generalised variance inflation factor, 1 or more; for one column 1 / (1 - R^2 on the others).</param>
/// <param name="PerDimension">Factor^(1/(2 q)) for q columns: comparable between groups, on the scale of a standard
/// error.</param>
/// <remarks>
/// <para><b>Equation</b>: det(R11) det(R22) / det(R), with R the correlation matrix of the model-based coefficient
/// estimates without the intercept, R11 its block for the group and R22 the block for the rest. It needs the covariance
/// only, so it serves every regression.</para>
/// <para><b>Sources</b>: Fox J, Monette G. J Am Stat Assoc 1992;87:178-183.</para>
/// <para><b>Checked against</b>: Linear/weighted_linear (from the R squared of each column on the others, and the
/// determinants).</para>
/// </remarks>
public sealed record VarianceInflation(IReadOnlyList<string> Terms, double Factor, double PerDimension)
{
    /// <summary>The inflation of every coefficient by itself, the intercept left out.</summary>
    /// <param name="modelBased">Coefficients with their model-based covariance.</param>
    /// <exception cref="TooFewDataError">Nothing but the intercept.</exception>
    public static IReadOnlyList<VarianceInflation> Of(Coefficients modelBased)
        => Of(modelBased, [.. modelBased.Terms.Where(t => t != DesignMatrix.InterceptName).Select(t => (IReadOnlyList<string>)[t])]);

    /// <summary>The inflation of each group of coefficients.</summary>
    /// <param name="modelBased">Coefficients with their model-based covariance.</param>
    /// <param name="groups">Groups of coefficients; none may hold the intercept.</param>
    /// <exception cref="InvalidInputError">No coefficient has one of the names, or a group holds the intercept.</exception>
    /// <exception cref="TooFewDataError">Nothing but the intercept.</exception>
    public static IReadOnlyList<VarianceInflation> Of(Coefficients modelBased, IReadOnlyList<IReadOnlyList<string>> groups)
    {
        int[] slopes = [.. Enumerable.Range(0, modelBased.Terms.Count).Where(i => modelBased.Terms[i] != DesignMatrix.InterceptName)];
        if (slopes.Length == 0)
            throw new TooFewDataError("a model of the intercept alone has no inflation", "Add a column.");
        double all = LogDeterminant(modelBased, slopes);
        List<VarianceInflation> inflations = [];
        foreach (IReadOnlyList<string> group in groups)
        {
            int[] inside = [.. group.Select(modelBased.IndexOf)];
            if (inside.Length == 0 || inside.Any(i => modelBased.Terms[i] == DesignMatrix.InterceptName))
                throw new InvalidInputError("the intercept has no variance inflation, nor has an empty group", "Name slopes only.");
            int[] outside = [.. slopes.Except(inside)];
            double factor = Math.Exp(LogDeterminant(modelBased, inside) + LogDeterminant(modelBased, outside) - all);
            inflations.Add(new VarianceInflation(group, factor, Math.Pow(factor, 0.5 / inside.Length)));
        }
        return inflations;
    }

    private static double LogDeterminant(Coefficients coefficients, int[] rows)
    {
        int q = rows.Length;
        double[] correlation = new double[q * q];
        for (int i = 0; i < q; i++)
        {
            for (int j = 0; j < q; j++)
            {
                correlation[(i * q) + j] = coefficients.Covariance[rows[i], rows[j]]
                    / (coefficients.StandardError(rows[i]) * coefficients.StandardError(rows[j]));
            }
        }
        return SmallCholesky.Factor(correlation, q, [.. rows.Select(r => coefficients.Terms[r])]).LogDeterminant;
    }
}
