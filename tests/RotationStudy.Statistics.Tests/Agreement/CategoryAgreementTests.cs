using System.Text.Json;
using RotationStudy.Statistics.Agreement;

namespace RotationStudy.Statistics.Tests.Agreement;

public class CategoryAgreementTests
{
    private static readonly ReferenceCase Cohen = ReferenceCase.Read("Agreement/cohen_1968_kappa");
    private static readonly ReferenceCase Methods = ReferenceCase.Read("Agreement/methods");

    [Fact]
    public void Cohens_table_gives_kappa_its_variance_and_both_weighted_kappas()
    {
        double[] table = Table();
        AgreementCoefficient plain = WeightedKappa.FromTable(table, AgreementWeights.Identity(3));
        Close.Relative(Cohen.Number("cases/kappa/kappa"), plain.Value.Value, 1e-12);
        Close.Relative(Cohen.Number("cases/kappa/var_kappa"), plain.Value.StandardError * plain.Value.StandardError, 1e-8);
        Close.Relative(Cohen.Number("cases/kappa/ci_unweighted/0"), plain.Value.Interval.Lower, 1e-8);
        Close.Relative(Cohen.Number("cases/kappa/weighted_quadratic"), WeightedKappa.FromTable(table, AgreementWeights.Quadratic(3)).Value.Value, 1e-12);
        AgreementCoefficient custom = WeightedKappa.FromTable(table, AgreementWeights.FromDisagreement([0, 1, 3, 1, 0, 6, 3, 6, 0]));
        Close.Relative(Cohen.Number("cases/kappa/weighted_custom_disagreement"), custom.Value.Value, 1e-12);
        Close.Printed(Cohen.Number("published/kappa"), plain.Value.Value, 3);
        Close.Printed(Cohen.Number("published/weighted_custom"), custom.Value.Value, 3);
    }

    [Fact]
    public void The_standard_error_of_kappa_in_a_two_by_two_table_by_hand()
    {
        // 40 10 / 10 40: po 0.8, pe 0.5, kappa 0.6. Fleiss, Cohen and Everitt: the part per agreeing cell is 1 - 0.4 = 0.6,
        // per other cell -0.4; 0.8*0.36 + 0.2*0.16 - (0.6 - 0.2)^2 = 0.16; root(0.16/100)/0.5 = 0.08.
        AgreementCoefficient found = WeightedKappa.FromTable([40, 10, 10, 40], AgreementWeights.Identity(2));
        Close.Relative(0.6, found.Value.Value, 1e-13);
        Close.Relative(0.08, found.Value.StandardError, 1e-12);
        // Under no agreement: 0.5*(1-1)^2 + 0.5*1 - 0.25 = 0.25; root(0.25/100)/0.5 = 0.1.
        Close.Relative(0.1, found.NullStandardError, 1e-12);
    }

    [Fact]
    public void Ratings_and_their_table_give_the_same_and_exchanging_raters_changes_nothing()
    {
        int[] a = [0, 1, 2, 2, 1, 0, 2, 1];
        int[] b = [0, 1, 1, 2, 1, 1, 2, 0];
        AgreementCoefficient found = WeightedKappa.Estimate(a, b, AgreementWeights.Linear(3));
        AgreementCoefficient exchanged = WeightedKappa.Estimate(b, a, AgreementWeights.Linear(3));
        AgreementCoefficient table = WeightedKappa.FromTable([1, 1, 0, 1, 2, 0, 0, 1, 2], AgreementWeights.Linear(3));
        Close.Relative(found.Value.Value, exchanged.Value.Value, 1e-13);
        Close.Relative(found.Value.StandardError, exchanged.Value.StandardError, 1e-12);
        Close.Relative(table.Value.StandardError, found.Value.StandardError, 1e-13);
    }

    [Theory]
    [InlineData("fleiss", "table", 1e-7)]
    [InlineData("ac1", "table", 1e-7)]
    [InlineData("ac2", "table", 1e-7)]
    [InlineData("gaps_ac1", "gaps", 1e-12)]
    [InlineData("gaps_ac2", "gaps", 1e-12)]
    [InlineData("gaps_fleiss", "gaps", 1e-12)]
    public void Coefficients_of_several_raters_agree_with_the_script(string name, string data, double tolerance)
    {
        RatingCounts ratings = Counts(data);
        AgreementWeights weights = name.EndsWith("ac2", StringComparison.Ordinal) ? AgreementWeights.Quadratic(5) : AgreementWeights.Identity(5);
        AgreementCoefficient found = name.EndsWith("fleiss", StringComparison.Ordinal) ? FleissKappa.Estimate(ratings, weights) : GwetAgreement.Estimate(ratings, weights);
        Close.Relative(Methods.Number(name + "/0"), found.Value.Value, 1e-12, name);
        Close.Relative(Methods.Number(name + "/1"), found.Value.StandardError, tolerance, name + " standard error");
    }

    [Fact]
    public void Printed_values_of_Fleiss_and_Gwet_come_out()
    {
        Close.Relative(Methods.Number("fleiss_statsmodels"), FleissKappa.Estimate(Counts("table"), AgreementWeights.Identity(5)).Value.Value, 1e-12);
        AgreementCoefficient gwet = GwetAgreement.Estimate(Counts("gaps"), AgreementWeights.Identity(5));
        Close.Printed(0.77544, gwet.Value.Value, 5, "Gwet 2014, recalled");
        Close.Printed(0.14295, gwet.Value.StandardError, 5, "Gwet 2014, recalled");
        AgreementCoefficient fleiss = FleissKappa.Estimate(Counts("gaps"), AgreementWeights.Identity(5));
        Close.Printed(0.76117, fleiss.Value.Value, 5, "Gwet 2014, recalled");
        Close.Printed(0.15302, fleiss.Value.StandardError, 5, "Gwet 2014, recalled");
    }

    [Fact]
    public void Gwets_coefficient_of_two_raters_by_hand()
    {
        // 90 agree on the common category, 2 on the rare one, 8 differ: pi of the rare one (2 + 4)/100 = 0.06, pe = 2*0.06*0.94 = 0.1128.
        int?[] a = [.. Enumerable.Repeat((int?)0, 90), .. Enumerable.Repeat((int?)1, 2), .. Enumerable.Repeat((int?)0, 8)];
        int?[] b = [.. Enumerable.Repeat((int?)0, 90), .. Enumerable.Repeat((int?)1, 2), .. Enumerable.Repeat((int?)1, 8)];
        AgreementCoefficient found = GwetAgreement.Estimate(RatingCounts.FromRaters(2, a, b), AgreementWeights.Identity(2));
        Close.Relative((0.92 - 0.1128) / (1 - 0.1128), found.Value.Value, 1e-12);
    }

    [Fact]
    public void Constant_raters_wrong_codes_and_wrong_weights_are_refused()
    {
        Assert.Contains("chance agreement is complete", Assert.Throws<TooFewDataError>(() => WeightedKappa.FromTable([9, 0, 0, 0], AgreementWeights.Identity(2))).Message, StringComparison.Ordinal);
        Assert.Equal(1, Assert.Throws<InvalidInputError>(() => WeightedKappa.Estimate([0, 3], [0, 1], AgreementWeights.Identity(3))).Row);
        Assert.Contains("FromDisagreement", Assert.Throws<InvalidInputError>(() => AgreementWeights.Custom([0, 1, 1, 0])).Message, StringComparison.Ordinal);
        Assert.Contains("rated twice", Assert.Throws<TooFewDataError>(() => RatingCounts.FromRaters(2, [0, null, 1], [null, 1, null])).Message, StringComparison.Ordinal);
    }

    private static double[] Table()
    {
        double[] table = new double[9];
        double[] a = Cohen.Column("a");
        double[] b = Cohen.Column("b");
        double[] n = Cohen.Column("n");
        for (int i = 0; i < 9; i++)
            table[(((int)a[i] - 1) * 3) + (int)b[i] - 1] = n[i];
        return table;
    }

    private static RatingCounts Counts(string name)
        => RatingCounts.FromCounts([.. Methods.Element(name).EnumerateArray().Select(r => (IReadOnlyList<int>)[.. r.EnumerateArray().Select((JsonElement e) => e.GetInt32())])]);
}
