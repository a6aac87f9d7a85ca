using RotationStudy.Statistics.Imputation;

namespace RotationStudy.Statistics.Tests.Imputation;

public class OrdinalLikelihoodTests
{
    private static readonly ReferenceCase Case = ReferenceCase.Read("Imputation/known_regressions");

    [Fact]
    public void The_ordinal_mode_and_its_errors_are_those_of_a_weighted_fit_with_pseudo_rows()
    {
        (double[] mode, double[] information) = Fit("y", ImputationModel.Ordinal);
        for (int t = 0; t < 3; t++)
            Close.Relative(Case.Number($"thresholds/{t}"), mode[t], 1e-6);
        for (int k = 0; k < 2; k++)
            Close.Relative(Case.Number($"slopes/{k}"), mode[3 + k], 1e-6);
        // Expected information here, observed there: they agree to a few per cent.
        Close.Relative(Case.Number("se/3"), Error(information, 5, 3), 0.05);
    }

    [Fact]
    public void A_separated_outcome_has_the_finite_mode_of_the_weighted_logistic_fit()
    {
        (double[] mode, double[] information) = Fit("z", ImputationModel.Logistic);
        Close.Relative(-Case.Number("logistic/0"), mode[0], 1e-6);
        Close.Relative(Case.Number("logistic/1"), mode[1], 1e-6);
        Close.Relative(Case.Number("logistic/2"), mode[2], 1e-6);
        for (int k = 0; k < 3; k++)
            Close.Relative(Case.Number($"logistic_se/{k}"), Error(information, 3, k), 1e-5);
    }

    private static (double[] Mode, double[] LowerFactor) Fit(string outcome, ImputationModel model)
    {
        double?[] With(double[] values, double? last) => [.. values.Select(v => (double?)v), last];
        ImputedColumn[] columns =
        [
            new() { Name = "x1", Values = With(Case.Column("x1"), 0) },
            new() { Name = "x2", Values = With(Case.Column("x2"), 0) },
            new() { Name = outcome, Values = With(Case.Column(outcome), null), Model = model },
        ];
        IncompleteTable table = IncompleteTable.Check(columns, null);
        ConditionalDesign design = new(table, table.Observed);
        design.Prepare(2, []);
        OrdinalLikelihood likelihood = OrdinalLikelihood.From(design, table.Categories[2]);
        return (likelihood.Maximize(), likelihood.LowerFactor);
    }

    /// <summary>Standard error of parameter k from the factor L of the information: the length of row k of L^-T.</summary>
    private static double Error(double[] lower, int p, int k)
    {
        double[] z = new double[p];
        z[k] = 1;
        for (int i = k; i < p; i++)
        {
            for (int j = k; j < i; j++)
                z[i] -= lower[(i * p) + j] * z[j];
            z[i] /= lower[(i * p) + i];
        }
        return Math.Sqrt(z.Sum(v => v * v));
    }
}
