using RotationStudy.Statistics.Mixed;

namespace RotationStudy.Statistics.Tests.Mixed;

public sealed class MixedInfluenceTests
{
    // Eight persons, four times each, invented: a level and a slope of their own, and a deviation.
    private const int Persons = 8, Times = 4;

    private static readonly double[] Deviation =
        [0.3, -0.5, 0.1, 0.4, -0.2, 0.6, -0.7, 0.2, 0.5, -0.1, -0.4, 0.3, -0.6, 0.2, 0.7, -0.3, 0.1, -0.2, 0.5, -0.5, 0.4, 0.0, -0.3, 0.6, -0.1, 0.3, -0.6, 0.2, 0.2, -0.4, 0.5, -0.2];

    [Fact]
    public void Without_a_person_of_a_balanced_layout_the_effects_are_those_of_a_fit_anew()
    {
        LinearMixedModelFit all = Fit([.. Enumerable.Range(0, Persons * Times)]);
        IReadOnlyList<IReadOnlyList<double>?> without = MixedInfluence.WithoutEachGroup(all);
        Assert.Equal(Persons, without.Count);
        for (int person = 0; person < Persons; person++)
        {
            LinearMixedModelFit rest = Fit([.. Enumerable.Range(0, Persons * Times).Where(r => r / Times != person)]);
            Assert.Equal(rest.Coefficients.Values[0], without[person]![0], 1e-8);
            Assert.Equal(rest.Coefficients.Values[1], without[person]![1], 1e-8);
        }
    }

    [Fact]
    public void The_shifts_of_unequal_persons_are_those_of_the_stated_equation()
    {
        // Two persons more than once, one row each otherwise: with a random intercept alone, V is the residual variance
        // times the identity plus the variance of the intercept, inverted by hand (Sherman and Morrison).
        int[] rows = [0, 1, 2, 4, 5, 8, 12, 13, 16, 20, 24, 25, 26, 27, 28];
        LinearMixedModelFit fit = Fit(rows, slope: false);
        double between = fit.Variance("person"), within = fit.ResidualVariance;
        (double A00, double A01, double A11, double B0, double B1) sum = default;
        (double A00, double A01, double A11, double B0, double B1)[] parts = new (double, double, double, double, double)[Persons];
        for (int person = 0; person < Persons; person++)
        {
            int[] own = [.. rows.Where(r => r / Times == person)];
            double shrink = between / (within + (own.Length * between));
            double sx = own.Sum(X), sy = own.Sum(Y);
            parts[person] = (
                (own.Length - (shrink * own.Length * own.Length)) / within, (sx - (shrink * own.Length * sx)) / within,
                (own.Sum(r => X(r) * X(r)) - (shrink * sx * sx)) / within,
                (sy - (shrink * own.Length * sy)) / within, (own.Sum(r => X(r) * Y(r)) - (shrink * sx * sy)) / within);
            sum = (sum.A00 + parts[person].A00, sum.A01 + parts[person].A01, sum.A11 + parts[person].A11, sum.B0 + parts[person].B0, sum.B1 + parts[person].B1);
        }
        IReadOnlyList<IReadOnlyList<double>?> without = MixedInfluence.WithoutEachGroup(fit);
        for (int person = 0; person < Persons; person++)
        {
            (double a00, double a01, double a11, double b0, double b1) = (
                sum.A00 - parts[person].A00, sum.A01 - parts[person].A01, sum.A11 - parts[person].A11, sum.B0 - parts[person].B0, sum.B1 - parts[person].B1);
            double determinant = (a00 * a11) - (a01 * a01);
            Assert.Equal(((a11 * b0) - (a01 * b1)) / determinant, without[person]![0], 1e-8);
            Assert.Equal(((a00 * b1) - (a01 * b0)) / determinant, without[person]![1], 1e-8);
        }
    }

    [Fact]
    public void A_column_that_only_one_person_moves_has_no_value_without_that_person()
    {
        int[] rows = [.. Enumerable.Range(0, Persons * Times)];
        DesignMatrix x = DesignMatrix.WithIntercept(("own", [.. rows.Select(r => r / Times == 3 ? X(r) : 0)]));
        LinearMixedModelFit fit = LinearMixedModel.Fit(x, [.. rows.Select(Y)], [new RandomTerm("person", Clusters.From([.. rows.Select(r => r / Times)]))]);
        IReadOnlyList<IReadOnlyList<double>?> without = MixedInfluence.WithoutEachGroup(fit);
        Assert.Null(without[3]);
        Assert.NotNull(without[2]);
    }

    [Fact]
    public void Crossed_terms_are_refused()
    {
        int[] rows = [.. Enumerable.Range(0, Persons * Times)];
        LinearMixedModelFit fit = LinearMixedModel.Fit(
            DesignMatrix.WithIntercept(("x", [.. rows.Select(X)])), [.. rows.Select(Y)],
            [new RandomTerm("person", Clusters.From([.. rows.Select(r => r / Times)])), new RandomTerm("rater", Clusters.From([.. rows.Select(r => r % Times)]))]);
        Assert.Contains("'rater' lies in several groups of 'person'", Assert.Throws<InvalidInputError>(() => MixedInfluence.WithoutEachGroup(fit)).Message);
    }

    private static double X(int row) => row % Times;

    private static double Y(int row) => 10 + (3 * Math.Sin(row / Times * 1.7)) + (X(row) * (1 + (0.4 * Math.Cos(row / Times * 2.3)))) + Deviation[row];

    private static LinearMixedModelFit Fit(int[] rows, bool slope = true)
    {
        double[] x = [.. rows.Select(X)];
        DesignMatrix design = DesignMatrix.WithIntercept(("x", x));
        return LinearMixedModel.Fit(design, [.. rows.Select(Y)], [new RandomTerm("person", Clusters.From([.. rows.Select(r => r / Times)]), slope ? design : null)]);
    }
}
