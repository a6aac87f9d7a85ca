using System.Text.Json;
using MathNet.Numerics.LinearAlgebra;
using RotationStudy.Statistics.Clustered;

namespace RotationStudy.Statistics.Tests.Clustered;

public class GeneralizedEstimatingEquationsTests
{
    private static readonly GeneralizedEstimatingEquationsOptions ByRows = new() { Divisor = ScaleDivisor.Rows, Correction = SandwichCorrection.None };

    [Fact]
    public void Pairs_with_a_common_mean_give_the_moments_by_hand()
    {
        // Pairs (1,3), (2,2), (6,4): mean 3, residuals (-2,0), (-1,-1), (3,1); chi-square 16, phi = 16/5; pair products
        // 0 + 1 + 3 = 4, alpha = 4 / (3 - 1) / phi = 0.625; scores are pair sums -2, -2, 4: variance (4 + 4 + 16)/36.
        GeneralizedEstimatingEquationsFit fit = GeneralizedEstimatingEquations.Fit(
            DesignMatrix.InterceptOnly(6),
            [1.0, 3, 2, 2, 6, 4],
            Clusters.From([1, 1, 2, 2, 3, 3]),
            MarginalFamily.Gaussian,
            options: new GeneralizedEstimatingEquationsOptions { Correction = SandwichCorrection.None });
        Close.Relative(3, fit.Coefficients.Values[0], 1e-12);
        Close.Relative(3.2, fit.Scale, 1e-12);
        Close.Relative(0.625, fit.Correlation, 1e-12);
        Close.Relative(24 / 36.0, fit.Coefficients.Covariance[0, 0], 1e-12);
    }

    [Theory]
    [InlineData("gee_exch_interaction", true, WorkingCorrelation.Exchangeable)]
    [InlineData("gee_exch_main", false, WorkingCorrelation.Exchangeable)]
    [InlineData("gee_ind_interaction", true, WorkingCorrelation.Independence)]
    public void Wheeze_agrees_with_the_reference(string id, bool interaction, WorkingCorrelation correlation)
    {
        (DesignMatrix x, double[] y, Clusters children) = WheezeData.Read(interaction);
        GeneralizedEstimatingEquationsFit fit = GeneralizedEstimatingEquations.Fit(x, y, children, MarginalFamily.Binomial, options: ByRows with { Correlation = correlation });
        Agree(ReferenceCase.Read("Clustered/ohio_wheeze").Element("cases/" + id), fit);
    }

    [Theory]
    [InlineData("gee_exch", WorkingCorrelation.Exchangeable)]
    [InlineData("gee_ind", WorkingCorrelation.Independence)]
    [InlineData("gee_ar1", WorkingCorrelation.Autoregressive)]
    public void Seizures_agree_with_the_reference(string id, WorkingCorrelation correlation)
    {
        ReferenceCase data = ReferenceCase.Read("Counts/epilepsy");
        double[] treated = [.. data.Text("trt").Select(t => t == "progabide" ? 1.0 : 0.0)];
        double[] baseline = data.Column("lbase");
        DesignMatrix x = DesignMatrix.WithIntercept(
            ("lbase", baseline), ("tr", treated), ("lage", data.Column("lage")), ("V4", data.Column("V4")), ("lbase:tr", [.. baseline.Zip(treated, (a, b) => a * b)]));
        GeneralizedEstimatingEquationsFit fit = GeneralizedEstimatingEquations.Fit(
            x, data.Column("y"), Clusters.From(data.Text("subject")), MarginalFamily.Poisson, options: ByRows with { Correlation = correlation, AutoregressivePairs = AutoregressivePairs.All });
        Agree(data.Element("cases/" + id), fit);
    }

    [Theory]
    [InlineData("epilepsy20_poisson")]
    [InlineData("orthodont_gaussian")]
    [InlineData("orthodont_binomial")]
    public void Few_clusters_agree_with_the_reference_in_every_variance_it_has(string id)
    {
        (DesignMatrix x, double[] y, Clusters clusters, MarginalFamily family) = SmallSample(id);
        JsonElement expected = ReferenceCase.Read("Clustered/small_sample").Element(id);
        GeneralizedEstimatingEquationsFit plain = GeneralizedEstimatingEquations.Fit(
            x, y, clusters, family, options: new GeneralizedEstimatingEquationsOptions { Correction = SandwichCorrection.None });
        GeneralizedEstimatingEquationsFit corrected = GeneralizedEstimatingEquations.Fit(x, y, clusters, family);
        Assert.Equal(SandwichCorrection.ManclDeRouen, corrected.Correction);
        Close.Relative(expected.GetProperty("alpha").GetDouble(), plain.Correlation, 1e-6, "alpha");
        Close.Relative(expected.GetProperty("scale").GetDouble(), plain.Scale, 1e-6, "phi");
        if (family == MarginalFamily.Gaussian)
            Close.Relative(expected.GetProperty("qic")[0].GetDouble(), plain.Qic, 1e-6, "QIC");
        for (int j = 0; j < x.Columns; j++)
        {
            Close.Relative(expected.GetProperty("coef")[j].GetDouble(), plain.Coefficients.Values[j], 1e-6, "coefficient");
            Close.Relative(expected.GetProperty("se_robust")[j].GetDouble(), plain.Coefficients.StandardError(j), 1e-6, "sandwich");
            Close.Relative(expected.GetProperty("se_naive")[j].GetDouble(), Math.Sqrt(plain.ModelBasedCovariance[j, j]), 1e-6, "model-based");
            Close.Relative(expected.GetProperty("se_mancl_derouen")[j].GetDouble(), corrected.Coefficients.StandardError(j), 1e-6, "Mancl-DeRouen");
        }
    }

    [Fact]
    public void Corrections_order_as_their_powers_do_and_equal_one_another_for_an_intercept()
    {
        (DesignMatrix x, double[] y, Clusters clusters, MarginalFamily family) = SmallSample("orthodont_binomial");
        double[] se = [.. new[] { SandwichCorrection.None, SandwichCorrection.KauermannCarroll, SandwichCorrection.ManclDeRouen }
            .Select(c => GeneralizedEstimatingEquations.Fit(x, y, clusters, family, options: new GeneralizedEstimatingEquationsOptions { Correction = c }).Coefficients.StandardError(2))];
        Assert.True(se[0] < se[1] && se[1] < se[2]);
        // With an intercept alone every cluster of equal size has leverage 1/G: Kauermann-Carroll and Fay-Graubard are both
        // (1 - 1/G)^-1 times the plain variance, Mancl-DeRouen its square.
        DesignMatrix one = DesignMatrix.InterceptOnly(y.Length);
        double[] v = [.. new[] { SandwichCorrection.None, SandwichCorrection.KauermannCarroll, SandwichCorrection.FayGraubard, SandwichCorrection.ManclDeRouen }
            .Select(c => GeneralizedEstimatingEquations.Fit(one, y, clusters, family, options: new GeneralizedEstimatingEquationsOptions { Correction = c }).Coefficients.Covariance[0, 0])];
        double factor = 1 / (1 - (1 / 27.0));
        Close.Relative(v[0] * factor, v[1], 1e-9);
        Close.Relative(v[0] * factor, v[2], 1e-9);
        Close.Relative(v[0] * factor * factor, v[3], 1e-9);
    }

    [Theory]
    [InlineData(WorkingCorrelation.Exchangeable, SandwichCorrection.KauermannCarroll)]
    [InlineData(WorkingCorrelation.Exchangeable, SandwichCorrection.ManclDeRouen)]
    [InlineData(WorkingCorrelation.Exchangeable, SandwichCorrection.FayGraubard)]
    [InlineData(WorkingCorrelation.Autoregressive, SandwichCorrection.KauermannCarroll)]
    [InlineData(WorkingCorrelation.Autoregressive, SandwichCorrection.FayGraubard)]
    public void Corrections_agree_with_their_definitions_in_full_matrices(WorkingCorrelation correlation, SandwichCorrection correction)
    {
        (DesignMatrix x, double[] y, Clusters clusters, MarginalFamily family) = SmallSample("orthodont_binomial");
        GeneralizedEstimatingEquationsFit fit = GeneralizedEstimatingEquations.Fit(
            x, y, clusters, family, options: new GeneralizedEstimatingEquationsOptions { Correlation = correlation, Correction = correction });
        Matrix<double> expected = FullMatrices.Covariance(x, y, clusters, fit, correction);
        for (int i = 0; i < x.Columns; i++)
        {
            for (int j = 0; j < x.Columns; j++)
                Close.Relative(expected[i, j], fit.Coefficients.Covariance[i, j], 1e-7);
        }
    }

    [Fact]
    public void Clusters_of_one_row_under_independence_are_ordinary_regression()
    {
        (DesignMatrix x, double[] y, Clusters _, MarginalFamily family) = SmallSample("orthodont_binomial");
        GeneralizedEstimatingEquationsFit fit = GeneralizedEstimatingEquations.Fit(
            x, y, Clusters.EachRow(y.Length), family, options: new GeneralizedEstimatingEquationsOptions { Correlation = WorkingCorrelation.Independence });
        for (int j = 0; j < x.Columns; j++)
        {
            double score = 0;
            for (int i = 0; i < y.Length; i++)
                score += x[i, j] * (y[i] - fit.Fitted[i]);
            Assert.InRange(score, -1e-9, 1e-9);
        }
        Assert.Equal(0, fit.Correlation);
    }

    [Fact]
    public void Shuffling_rows_and_renaming_clusters_changes_nothing()
    {
        (DesignMatrix x, double[] y, Clusters clusters, MarginalFamily family) = SmallSample("epilepsy20_poisson");
        int[] order = [.. Enumerable.Range(0, y.Length).OrderBy(i => (i * 37) % 83)];
        GeneralizedEstimatingEquationsFit first = GeneralizedEstimatingEquations.Fit(x, y, clusters, family);
        GeneralizedEstimatingEquationsFit second = GeneralizedEstimatingEquations.Fit(x.SelectRows(order), [.. order.Select(i => y[i])], clusters.SelectRows(order), family);
        for (int j = 0; j < x.Columns; j++)
        {
            Close.Relative(first.Coefficients.Values[j], second.Coefficients.Values[j], 1e-10);
            Close.Relative(first.Coefficients.StandardError(j), second.Coefficients.StandardError(j), 1e-10);
        }
    }

    [Fact]
    public void A_constant_offset_moves_the_intercept_alone()
    {
        (DesignMatrix x, double[] y, Clusters clusters, MarginalFamily family) = SmallSample("epilepsy20_poisson");
        double[] offset = new double[y.Length];
        Array.Fill(offset, Math.Log(2));
        GeneralizedEstimatingEquationsFit first = GeneralizedEstimatingEquations.Fit(x, y, clusters, family);
        GeneralizedEstimatingEquationsFit second = GeneralizedEstimatingEquations.Fit(x, y, clusters, family, offset);
        Close.Relative(first.Coefficients.Values[0] - Math.Log(2), second.Coefficients.Values[0], 1e-9);
        Close.Relative(first.Coefficients.Values[1], second.Coefficients.Values[1], 1e-9);
        Close.Relative(first.Coefficients.StandardError(1), second.Coefficients.StandardError(1), 1e-9);
    }

    [Fact]
    public void Rescaling_a_column_rescales_its_coefficient()
    {
        (DesignMatrix x, double[] y, Clusters clusters, MarginalFamily family) = SmallSample("orthodont_binomial");
        DesignMatrix months = DesignMatrix.FromColumns([.. Enumerable.Range(0, 3).Select(j => (x.Names[j], (IReadOnlyList<double>)[.. x.Column(j).ToArray().Select(v => j == 1 ? 12 * v : v)]))]);
        GeneralizedEstimatingEquationsFit years = GeneralizedEstimatingEquations.Fit(x, y, clusters, family);
        GeneralizedEstimatingEquationsFit byMonth = GeneralizedEstimatingEquations.Fit(months, y, clusters, family);
        Close.Relative(years.Coefficients.Values[1] / 12, byMonth.Coefficients.Values[1], 1e-9);
        Close.Relative(years.Coefficients.StandardError(1) / 12, byMonth.Coefficients.StandardError(1), 1e-9);
        Close.Relative(years.Qic, byMonth.Qic, 1e-9);
    }

    [Fact]
    public void A_coefficient_that_one_cluster_determines_alone_does_not_break_the_correction()
    {
        (DesignMatrix x, double[] y, Clusters clusters, MarginalFamily family) = SmallSample("orthodont_gaussian");
        DesignMatrix with = DesignMatrix.FromColumns([.. Enumerable.Range(0, 3).Select(j => (x.Names[j], (IReadOnlyList<double>)x.Column(j).ToArray())), ("first person", [.. Enumerable.Range(0, y.Length).Select(i => clusters.ClusterOfRow[i] == 0 ? 1.0 : 0.0)])]);
        GeneralizedEstimatingEquationsFit fit = GeneralizedEstimatingEquations.Fit(with, y, clusters, family);
        Assert.True(double.IsFinite(fit.Coefficients.StandardError(1)));
    }

    [Fact]
    public void A_correlation_outside_its_range_is_refused()
    {
        NotConvergedError error = Assert.Throws<NotConvergedError>(() => GeneralizedEstimatingEquations.Fit(
            DesignMatrix.InterceptOnly(6), [1.0, 9, 3, 8, 10, 1], Clusters.From([1, 1, 2, 2, 3, 3]), MarginalFamily.Gaussian));
        Assert.Contains("leaves the range from -1 to 1", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Perfectly_split_outcomes_are_refused()
        => Assert.Throws<SeparationError>(() => GeneralizedEstimatingEquations.Fit(
            DesignMatrix.WithIntercept(("exposed", [0.0, 0, 0, 0, 1, 1, 1, 1])), [0.0, 0, 0, 0, 1, 1, 1, 1], Clusters.From([1, 1, 2, 2, 3, 3, 4, 4]), MarginalFamily.Binomial));

    [Fact]
    public void Too_few_clusters_dependent_columns_and_wrong_outcomes_are_refused()
    {
        Clusters two = Clusters.From([1, 1, 2, 2]);
        Clusters one = Clusters.From([1, 1, 1, 1]);
        Assert.Contains("1 clusters cannot", Assert.Throws<TooFewDataError>(() => GeneralizedEstimatingEquations.Fit(DesignMatrix.InterceptOnly(4), [1.0, 2, 3, 4], one, MarginalFamily.Gaussian)).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => GeneralizedEstimatingEquations.Fit(DesignMatrix.InterceptOnly(4), [1.0, 2, 3, 4], two, MarginalFamily.Binomial));
        Assert.Throws<InvalidInputError>(() => GeneralizedEstimatingEquations.Fit(DesignMatrix.InterceptOnly(4), [1.0, double.NaN, 3, 4], two, MarginalFamily.Gaussian));
        Assert.Throws<TooFewDataError>(() => GeneralizedEstimatingEquations.Fit(DesignMatrix.InterceptOnly(4), [1.0, 2, 3, 4], Clusters.EachRow(4), MarginalFamily.Gaussian));
        RankDeficientError dependent = Assert.Throws<RankDeficientError>(() => GeneralizedEstimatingEquations.Fit(
            DesignMatrix.WithIntercept(("constant", [2.0, 2, 2, 2, 2, 2])), [1.0, 2, 3, 4, 4, 6], Clusters.From([1, 1, 2, 2, 3, 3]), MarginalFamily.Gaussian));
        Assert.Equal(["constant"], dependent.Columns);
    }

    private static void Agree(JsonElement expected, GeneralizedEstimatingEquationsFit fit)
    {
        int j = 0;
        foreach (JsonProperty value in expected.GetProperty("coef").EnumerateObject())
            Close.Relative(value.Value.GetDouble(), fit.Coefficients.Values[j++], 1e-6, value.Name);
        j = 0;
        foreach (JsonProperty value in expected.GetProperty("se_sandwich").EnumerateObject())
            Close.Relative(value.Value.GetDouble(), fit.Coefficients.StandardError(j++), 1e-6, value.Name);
        Close.Relative(expected.GetProperty("phi").GetDouble(), fit.Scale, 1e-6, "phi");
        if (expected.GetProperty("alpha").ValueKind == JsonValueKind.Number)
            Close.Relative(expected.GetProperty("alpha").GetDouble(), fit.Correlation, 1e-6, "alpha");
    }

    private static (DesignMatrix X, double[] Y, Clusters Clusters, MarginalFamily Family) SmallSample(string id)
    {
        if (id == "epilepsy20_poisson")
        {
            ReferenceCase epilepsy = ReferenceCase.Read("Counts/epilepsy");
            DesignMatrix counts = DesignMatrix.WithIntercept(("lbase", epilepsy.Column("lbase")[..80]), ("V4", epilepsy.Column("V4")[..80]));
            return (counts, epilepsy.Column("y")[..80], Clusters.From(epilepsy.Text("subject")[..80]), MarginalFamily.Poisson);
        }
        ReferenceCase growth = ReferenceCase.Read("Mixed/orthodont");
        DesignMatrix x = DesignMatrix.WithIntercept(("age", [.. growth.Column("age").Select(a => a - 11)]), ("male", [.. growth.Text("Sex").Select(s => s == "Male" ? 1.0 : 0.0)]));
        bool binary = id == "orthodont_binomial";
        double[] y = [.. growth.Column("distance").Select(d => binary ? (d > 24 ? 1.0 : 0.0) : d)];
        return (x, y, Clusters.From(growth.Text("Subject")), binary ? MarginalFamily.Binomial : MarginalFamily.Gaussian);
    }
}
