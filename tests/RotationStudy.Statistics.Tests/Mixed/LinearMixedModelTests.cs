using System.Text.Json;
using RotationStudy.Statistics.Mixed;

namespace RotationStudy.Statistics.Tests.Mixed;

public class LinearMixedModelTests
{
    private static readonly LinearMixedModelOptions Full = new() { Criterion = LikelihoodCriterion.Full };

    [Fact]
    public void In_a_balanced_one_way_layout_the_restricted_variances_are_those_of_the_analysis_of_variance()
    {
        // Groups (1,2,3), (4,6,8), (10,10,10): group means 2, 6, 10, grand mean 6; between mean square 3 (16+0+16)/2 = 48,
        // within mean square (2 + 8 + 0)/6 = 5/3; variance between groups (48 - 5/3)/3, standard error sqrt(48/9).
        LinearMixedModelFit fit = LinearMixedModel.Fit(
            DesignMatrix.InterceptOnly(9),
            [1.0, 2, 3, 4, 6, 8, 10, 10, 10],
            [new RandomTerm("group", Clusters.From([1, 1, 1, 2, 2, 2, 3, 3, 3]))]);
        Close.Relative(6, fit.Coefficients.Values[0], 1e-12);
        Close.Relative((48 - (5 / 3.0)) / 3, fit.Variance("group"), 1e-8);
        Close.Relative(5 / 3.0, fit.ResidualVariance, 1e-8);
        Close.Relative(Math.Sqrt(48 / 9.0), fit.Coefficients.StandardError(0), 1e-8);
        Close.Relative(2, fit.Coefficients.DegreesOfFreedom[0], 1e-6, "groups less one");
        Assert.Empty(fit.BoundaryTerms);
    }

    [Theory]
    [InlineData("lmm_slope_reml", true, LikelihoodCriterion.Restricted)]
    [InlineData("lmm_slope_ml", true, LikelihoodCriterion.Full)]
    [InlineData("lmm_int_reml", false, LikelihoodCriterion.Restricted)]
    public void Growth_data_agree_with_the_reference(string id, bool slope, LikelihoodCriterion criterion)
    {
        ReferenceCase reference = ReferenceCase.Read("Mixed/orthodont");
        LinearMixedModelFit fit = FitGrowth(reference, slope, new LinearMixedModelOptions { Criterion = criterion });
        Agree(reference.Element("cases/" + id), fit);
    }

    [Fact]
    public void Growth_data_agree_with_the_printed_deviances_of_Jennrich_and_Schluchter()
    {
        // Jennrich & Schluchter 1986, Biometrics 42:805-820: -2 log L of the linear trend by sex; recalled, not re-read.
        ReferenceCase reference = ReferenceCase.Read("Mixed/orthodont");
        Close.Printed(427.806, -2 * FitGrowth(reference, true, Full).LogLikelihood, 3);
        Close.Printed(428.639, -2 * FitGrowth(reference, false, Full).LogLikelihood, 3);
    }

    [Fact]
    public void Growth_data_have_as_many_degrees_of_freedom_as_persons_carry()
    {
        ReferenceCase reference = ReferenceCase.Read("Mixed/orthodont");
        LinearMixedModelFit fit = FitGrowth(reference, true, new LinearMixedModelOptions());
        JsonElement expected = reference.Element("cases/satterthwaite_random_slope");
        for (int j = 0; j < 4; j++)
        {
            Close.Relative(25, fit.Coefficients.DegreesOfFreedom[j], 1e-6);
            Close.Relative(expected.GetProperty("p")[j].GetDouble(), fit.Coefficients.Estimate(j).PValue, 1e-5);
        }
        Close.Relative(79, FitGrowth(reference, false, new LinearMixedModelOptions()).Coefficients.DegreesOfFreedom[3], 1e-6);
    }

    [Theory]
    [InlineData("reml", true, LikelihoodCriterion.Restricted)]
    [InlineData("ml", true, LikelihoodCriterion.Full)]
    [InlineData("uncorrelated_reml", false, LikelihoodCriterion.Restricted)]
    public void Reaction_times_agree_with_the_reference(string id, bool correlated, LikelihoodCriterion criterion)
    {
        ReferenceCase reference = ReferenceCase.Read("Mixed/sleepstudy");
        LinearMixedModelFit fit = FitSleep(reference, correlated, new LinearMixedModelOptions { Criterion = criterion });
        Agree(reference.Element("cases/" + id), fit);
    }

    [Fact]
    public void Reaction_times_agree_in_predicted_effects()
    {
        ReferenceCase reference = ReferenceCase.Read("Mixed/sleepstudy");
        LinearMixedModelFit fit = FitSleep(reference, true, new LinearMixedModelOptions());
        JsonElement expected = reference.Element("cases/blup_reml");
        IReadOnlyList<RandomEffect> effects = fit.RandomEffects("person");
        for (int g = 0; g < 18; g++)
        {
            Assert.InRange(effects[2 * g].Value - expected.GetProperty("int")[g].GetDouble(), -1e-4, 1e-4);
            Assert.InRange(effects[(2 * g) + 1].Value - expected.GetProperty("days")[g].GetDouble(), -1e-4, 1e-4);
        }
        Close.Relative(17, fit.Coefficients.DegreesOfFreedom[1], 1e-6);
    }

    [Fact]
    public void Growth_by_sex_has_the_F_test_of_Kenward_and_Roger_as_in_the_reference()
    {
        ReferenceCase reference = ReferenceCase.Read("Mixed/orthodont");
        LinearMixedModelOptions options = new() { DegreesOfFreedom = FixedEffectDegreesOfFreedom.KenwardRoger };
        foreach ((string id, bool slope) in new[] { ("kr_interaction_random_int", false), ("kr_interaction_random_slope", true) })
        {
            TestResult test = FitGrowth(reference, slope, options).EffectTest("a:male");
            Close.Relative(reference.Number($"cases/{id}/F"), test.Statistic, 1e-6);
            Close.Relative(reference.Number($"cases/{id}/ddf"), test.DenominatorDegreesOfFreedom, 1e-8);
        }
    }

    [Fact]
    public void Rescaling_and_shifting_the_outcome_rescales_and_shifts_the_answers()
    {
        ReferenceCase data = ReferenceCase.Read("Mixed/sleepstudy");
        LinearMixedModelFit first = FitSleep(data, true, new LinearMixedModelOptions());
        DesignMatrix x = DesignMatrix.WithIntercept(("Days", data.Column("Days")));
        LinearMixedModelFit second = LinearMixedModel.Fit(
            x, [.. data.Column("Reaction").Select(r => (r / 1000) + 1e4)], [new RandomTerm("person", Clusters.From(data.Text("Subject")), x)]);
        Close.Relative((first.Coefficients.Values[0] / 1000) + 1e4, second.Coefficients.Values[0], 1e-12);
        Close.Relative(first.Coefficients.Values[1] / 1000, second.Coefficients.Values[1], 1e-8);
        Close.Relative(first.ResidualVariance / 1e6, second.ResidualVariance, 1e-7);
        Close.Relative(first.Variance("person", "Days") / 1e6, second.Variance("person", "Days"), 1e-6);
        Close.Relative(first.Coefficients.DegreesOfFreedom[1], second.Coefficients.DegreesOfFreedom[1], 1e-5);
    }

    [Fact]
    public void Rescaling_a_random_slope_rescales_its_variance_and_nothing_else()
    {
        ReferenceCase data = ReferenceCase.Read("Mixed/sleepstudy");
        LinearMixedModelFit days = FitSleep(data, true, new LinearMixedModelOptions());
        DesignMatrix hours = DesignMatrix.WithIntercept(("hours", [.. data.Column("Days").Select(d => 24 * d)]));
        LinearMixedModelFit byHour = LinearMixedModel.Fit(hours, data.Column("Reaction"), [new RandomTerm("person", Clusters.From(data.Text("Subject")), hours)]);
        Close.Relative(days.Variance("person", "Days") / 576, byHour.Variance("person", "hours"), 1e-7);
        Close.Relative(days.Coefficients.StandardError(1) / 24, byHour.Coefficients.StandardError(1), 1e-8);
        Close.Relative(days.Fitted[17], byHour.Fitted[17], 1e-9);
    }

    [Fact]
    public void Groups_more_alike_than_chance_allows_are_on_the_boundary_not_an_error()
    {
        // Group means are all 2: the best variance between groups is zero, and the rest is the ordinary mean.
        double[] y = [1, 3, 2, 2, 0, 4, 1, 3];
        LinearMixedModelFit fit = LinearMixedModel.Fit(DesignMatrix.InterceptOnly(8), y, [new RandomTerm("pair", Clusters.From([1, 1, 2, 2, 3, 3, 4, 4]))]);
        Assert.Equal(["pair"], fit.BoundaryTerms);
        Assert.Equal(0, fit.Variance("pair"));
        Close.Relative(12 / 7.0, fit.ResidualVariance, 1e-10);
        Close.Relative(Math.Sqrt(12 / 7.0 / 8), fit.Coefficients.StandardError(0), 1e-10);
        Close.Relative(7, fit.Coefficients.DegreesOfFreedom[0], 1e-6);
        Assert.Equal(0, fit.IntraclassCorrelation("pair"));
        Assert.Equal(0, fit.StandardDeviationInterval("pair").Lower);
        Assert.All(fit.RandomEffects("pair"), e => Assert.Equal(0, e.Value));
    }

    [Fact]
    public void A_correlation_of_one_is_on_the_boundary_not_an_error()
    {
        // Slopes 1, -1, 2, -2 by group; intercepts follow them through errors that have a trend of their own.
        double[] slope = [1, -1, 2, -2];
        double[] error = [0.3, -0.5, 0.4, -0.2];
        double[] time = [.. Enumerable.Range(0, 16).Select(i => i % 4)];
        double[] y = [.. Enumerable.Range(0, 16).Select(i => (slope[i / 4] * time[i]) + ((i / 4 % 2 == 0 ? 1 : -1) * error[i % 4]))];
        DesignMatrix x = DesignMatrix.WithIntercept(("time", time));
        LinearMixedModelFit fit = LinearMixedModel.Fit(x, y, [new RandomTerm("person", Clusters.From([.. Enumerable.Range(0, 16).Select(i => i / 4)]), x)]);
        Assert.Equal(["person"], fit.BoundaryTerms);
        Close.Relative(1, Math.Abs(fit.VarianceComponents[2].Correlation!.Value), 1e-6);
        Assert.True(fit.Variance("person", "time") > 1);
    }

    [Fact]
    public void Where_the_intercept_does_not_vary_the_flat_valley_of_its_covariance_is_recognised()
    {
        // Simulated data whose best variance of the intercept is zero while the slope varies: the factor of the covariance can
        // be turned without changing it. An earlier optimiser did not stop here.
        Random random = new(unchecked((20260 * 1000003) + (10 * 7919) + 994));
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        List<(double Y, double Time, double Exposed, int Person, int Unit)> rows = [];
        for (int person = 0; person < 10; person++)
        {
            double level = Normal();
            double trend = 0.5 * ((0.3 * level) + (Math.Sqrt(0.91) * Normal()));
            for (int side = 0; side < 2; side++)
            {
                double own = Math.Sqrt(0.5) * Normal();
                for (int time = 0; time < 3; time++)
                {
                    double y = 10 + (0.3 * time) + (0.4 * (person % 2)) + level + (trend * time) + own + Normal();
                    if (random.NextDouble() >= 0.2)
                        rows.Add((y, time, person % 2, person, (2 * person) + side));
                }
            }
        }
        double[] times = [.. rows.Select(r => r.Time)];
        LinearMixedModelFit fit = LinearMixedModel.Fit(
            DesignMatrix.WithIntercept(("time", times), ("exposed", [.. rows.Select(r => r.Exposed)])),
            [.. rows.Select(r => r.Y)],
            [new RandomTerm("person", Clusters.From([.. rows.Select(r => r.Person)]), DesignMatrix.WithIntercept(("time", times))), new RandomTerm("unit", Clusters.From([.. rows.Select(r => r.Unit)]))]);
        Assert.Equal(["person"], fit.BoundaryTerms);
        Assert.InRange(fit.Variance("person"), 0, 1e-7);
        Close.Relative(-0.5 * 166.8495563, fit.LogLikelihood, 1e-8);
        Assert.All(fit.Coefficients.DegreesOfFreedom, df => Assert.InRange(df, 4, 49));
    }

    [Fact]
    public void The_intraclass_correlation_is_the_share_of_the_variance()
    {
        ReferenceCase data = ReferenceCase.Read("Mixed/pastes");
        LinearMixedModelFit fit = LinearMixedModel.Fit(
            DesignMatrix.InterceptOnly(60), data.Column("strength"), [new RandomTerm("cask", Clusters.From(data.Text("sample"))), new RandomTerm("batch", Clusters.From(data.Text("batch")))]);
        double[] v = [8.43366658125388, 1.65730912951132, 0.677999984533191];
        Close.Relative((v[0] + v[1]) / v.Sum(), fit.IntraclassCorrelation("cask", "batch"), 1e-6);
        Close.Relative(v[1] / v.Sum(), fit.IntraclassCorrelation("batch"), 1e-6);
        Assert.Throws<InvalidInputError>(() => FitSleep(ReferenceCase.Read("Mixed/sleepstudy"), true, Full).IntraclassCorrelation("person"));
    }

    [Fact]
    public void What_cannot_be_fitted_is_refused_with_the_reason()
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("a", [1.0, 2, 3, 4, 5, 7]));
        double[] y = [1, 3, 2, 5, 4, 6];
        Clusters pairs = Clusters.From([1, 1, 2, 2, 3, 3]);
        Refused<TooFewDataError>("one group", x, y, new RandomTerm("p", Clusters.From([1, 1, 1, 1, 1, 1])));
        Refused<TooFewDataError>("6 effects for 6 rows", x, y, new RandomTerm("p", Clusters.EachRow(6)));
        Refused<TooFewDataError>("6 effects for 6 rows", x, y, new RandomTerm("p", pairs, x));
        Refused<TooFewDataError>("2 rows cannot", x.SelectRows([0, 1]), y[..2], new RandomTerm("p", Clusters.From([1, 2])));
        Refused<TooFewDataError>("exact combination", x, [2.0, 4, 6, 8, 10, 14], new RandomTerm("p", pairs));
        Refused<InvalidInputError>("group the rows alike", x, y, new RandomTerm("p", pairs), new RandomTerm("q", Clusters.From(["c", "c", "a", "a", "b", "b"])));
        Refused<InvalidInputError>("two random terms are named", x, y, new RandomTerm("p", pairs), new RandomTerm("p", Clusters.From([1, 2, 1, 2, 1, 2])));
        Refused<InvalidInputError>("at least one random term", x, y);
        Refused<InvalidInputError>("'outcome' holds NaN in row 1", x, [1, double.NaN, 2, 5, 4, 6], new RandomTerm("p", pairs));
        Refused<InvalidInputError>("is zero in every row", x, y, new RandomTerm("p", Clusters.From([1, 1, 1, 2, 2, 2]), DesignMatrix.FromColumns(("z", [0.0, 0, 0, 0, 0, 0]))));
        Refused<RankDeficientError>("twice", DesignMatrix.WithIntercept(("a", [1.0, 2, 3, 4, 5, 7]), ("twice", [2.0, 4, 6, 8, 10, 14])), y, new RandomTerm("p", pairs));
        Refused<RankDeficientError>("constant", DesignMatrix.WithIntercept(("constant", [2.0, 2, 2, 2, 2, 2])), y, new RandomTerm("p", pairs));
    }

    private static void Refused<T>(string reason, DesignMatrix x, double[] y, params RandomTerm[] terms)
        where T : StatisticsError
        => Assert.Contains(reason, Assert.Throws<T>(() => LinearMixedModel.Fit(x, y, terms)).Message, StringComparison.Ordinal);

    private static LinearMixedModelFit FitGrowth(ReferenceCase data, bool slope, LinearMixedModelOptions options)
    {
        double[] age = data.Column("age");
        double[] male = [.. data.Text("Sex").Select(s => s == "Male" ? 1.0 : 0.0)];
        DesignMatrix x = DesignMatrix.WithIntercept(("a", age), ("male", male), ("a:male", [.. age.Zip(male, (a, m) => a * m)]));
        RandomTerm person = new("person", Clusters.From(data.Text("Subject")), slope ? DesignMatrix.WithIntercept(("a", age)) : null);
        return LinearMixedModel.Fit(x, data.Column("distance"), [person], options);
    }

    private static LinearMixedModelFit FitSleep(ReferenceCase data, bool correlated, LinearMixedModelOptions options)
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("Days", data.Column("Days")));
        return LinearMixedModel.Fit(x, data.Column("Reaction"), [new RandomTerm("person", Clusters.From(data.Text("Subject")), x, correlated)], options);
    }

    private static void Agree(JsonElement expected, LinearMixedModelFit fit)
    {
        Close.Relative(expected.GetProperty("logLik").GetDouble(), fit.LogLikelihood, 1e-10, "log-likelihood");
        int j = 0;
        foreach (JsonProperty value in expected.GetProperty("fixef").EnumerateObject())
            Close.Relative(value.Value.GetDouble(), fit.Coefficients.Values[j++], 1e-8, value.Name);
        j = 0;
        foreach (JsonProperty value in expected.GetProperty("se").EnumerateObject())
            Close.Relative(value.Value.GetDouble(), fit.Coefficients.StandardError(j++), 1e-6, value.Name);
        j = 0;
        foreach (JsonElement value in expected.GetProperty("vc_vcov").EnumerateArray())
            Close.Relative(value.GetDouble(), fit.VarianceComponents[j++].Value, 1e-5, "variance component");
    }
}
