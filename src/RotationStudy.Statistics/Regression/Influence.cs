using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>
/// Which row, or which cluster, moves which coefficient how far: the change in every coefficient when it is left out.
/// </summary>
/// <remarks>
/// <para><b>Equation</b>: b - b(without g) = (X'WX)^-1 X_g' W_g (I - H_gg)^-1 e_g, exact for linear regression, with
/// H_gg the block of the hat matrix that belongs to unit g. No refit is made. For one row this is M x w e / (1 -
/// h).</para>
/// <para><b>Cook's distance</b> of a unit: squared length of its shift in the metric X'WX, over p sigma^2.</para>
/// <para><b>Edges</b>: without a unit that is absorbed by columns of its own (leverage one) some coefficient has no
/// value; such units are listed in <see cref="Undeletable"/> and their shift is the one with the smallest length. Rows
/// of weight zero move nothing.</para>
/// <para><b>Sources</b>: Cook RD. Technometrics 1977;19:15-18; Belsley DA, Kuh E, Welsch RE. Regression Diagnostics.
/// 1980, equation 2.1; by cluster: Preisser JS, Qaqish BF. Biometrika 1996;83:551-562.</para>
/// <para><b>Checked against</b>: Linear/weighted_linear, and refits.</para>
/// </remarks>
public sealed class Influence
{
    private readonly double[] shifts;
    private readonly double[] cook;
    private readonly Coefficients coefficients;

    private Influence(Coefficients coefficients, double[] shifts, double[] cook, IReadOnlyList<int> undeletable)
    {
        this.coefficients = coefficients;
        this.shifts = shifts;
        this.cook = cook;
        Undeletable = undeletable;
    }

    /// <summary>Names of the coefficients.</summary>
    public IReadOnlyList<string> Terms => coefficients.Terms;

    /// <summary>Number of rows or clusters.</summary>
    public int Units => cook.Length;

    /// <summary>Cook's distance of each unit.</summary>
    public IReadOnlyList<double> CooksDistance => cook;

    /// <summary>Units without which some coefficient would have no value.</summary>
    public IReadOnlyList<int> Undeletable { get; }

    /// <summary>
    /// Shift of a coefficient that a unit causes: the estimate with it minus the estimate without it, in the coefficient's unit.
    /// </summary>
    public double Shift(int unit, int term) => shifts[(unit * Terms.Count) + term];

    /// <summary>The shift in model-based standard errors of the full fit.</summary>
    public double ShiftInStandardErrors(int unit, int term) => Shift(unit, term) / coefficients.StandardError(term);

    /// <summary>The units that move one coefficient most, the farthest first; ties by unit.</summary>
    /// <param name="term">The coefficient.</param>
    /// <param name="count">How many units to list.</param>
    /// <exception cref="InvalidInputError">No coefficient has that name.</exception>
    public IReadOnlyList<int> MostInfluential(string term, int count)
    {
        int position = coefficients.IndexOf(term);
        return [.. Enumerable.Range(0, Units).OrderByDescending(u => Math.Abs(Shift(u, position))).ThenBy(u => u).Take(count)];
    }

    /// <summary>Influence of each row of a linear regression.</summary>
    public static Influence ByRow(LinearRegressionResult fit) => ByCluster(fit, Clusters.EachRow(fit.Step.Design.Rows));

    /// <summary>Influence of each cluster of a linear regression.</summary>
    /// <exception cref="InvalidInputError">The clusters are not of the fit's rows.</exception>
    public static Influence ByCluster(LinearRegressionResult fit, Clusters clusters)
        => Of(fit.Step, clusters, fit.ModelBased, fit.Sigma * fit.Sigma);

    /// <summary>One-step influence for any fit that ends in a weighted least-squares step.</summary>
    internal static Influence Of(WorkingLeastSquares step, Clusters clusters, Coefficients modelBased, double dispersion)
    {
        Require.SameLength(clusters.Rows, step.Design.Rows, "clusters");
        int p = step.Design.Columns;
        ClusterAdjustment adjustment = new(step, clusters, ClusterVariance.CR3);
        double[] shifts = new double[clusters.Count * p];
        double[] cook = new double[clusters.Count];
        double[] deleted = new double[clusters.LargestSize];
        double[] whitened = new double[p];
        List<int> undeletable = [];
        for (int c = 0; c < clusters.Count; c++)
        {
            adjustment.Load(c);
            adjustment.Apply(adjustment.Residuals, deleted, transposed: false);
            if (adjustment.IsSingular)
                undeletable.Add(c);
            Array.Clear(whitened);
            for (int i = 0; i < adjustment.Size; i++)
                CrossProduct.AddScaled(adjustment.WhitenedRow(i), deleted[i], whitened);
            cook[c] = CrossProduct.Dot(whitened, whitened) / (p * dispersion);
            for (int j = 0; j < p; j++)
                shifts[(c * p) + j] = CrossProduct.Dot(step.BreadRoot.AsSpan(j * p, p), whitened);
        }
        return new Influence(modelBased, shifts, cook, undeletable);
    }
}
