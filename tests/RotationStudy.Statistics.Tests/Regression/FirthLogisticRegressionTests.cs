using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class FirthLogisticRegressionTests
{
    [Fact]
    public void A_separated_table_equals_half_an_observation_added_to_each_cell()
    {
        // Firth 1993: closed form for a saturated model.
        ReferenceCase reference = ReferenceCase.Read("Binary/firth_separated_2x2");
        DesignMatrix x = DesignMatrix.WithIntercept(("x", reference.Column("x")));
        FirthFit fit = FirthLogisticRegression.Fit(x, reference.Column("y"), weights: reference.Column("n"));
        Close.Relative(Math.Log(5.5 / 12.5), fit.Coefficients.Values[0], 1e-8);
        Close.Relative(Math.Log(8.5 / 0.5) - Math.Log(5.5 / 12.5), fit.Coefficients.Values[1], 1e-8);
        for (int j = 0; j < 2; j++)
        {
            Close.Relative(reference.Number($"cases/firth_logit/coef/{j}"), fit.Coefficients.Values[j], 1e-8);
            Close.Relative(reference.Number($"cases/firth_logit/se/{j}"), fit.Coefficients.StandardError(j), 1e-8);
        }
        Assert.Equal(["x"], fit.SeparatedColumns);
    }

    [Fact]
    public void Endometrial_cancer_agrees_with_the_paper_as_recalled_and_with_plain_optimisation()
    {
        ReferenceCase reference = ReferenceCase.Read("Binary/endometrial");
        DesignMatrix x = DesignMatrix.WithIntercept(("NV", reference.Column("NV")), ("PI", reference.Column("PI")), ("EH", reference.Column("EH")));
        double[] y = reference.Column("HG");
        FirthFit fit = FirthLogisticRegression.Fit(x, y);
        AssertEqual(reference, fit);
        // Heinze and Schemper 2002: recalled, not re-read.
        (double Value, double Lower, double Upper)[] printed = [(2.93, 0.61, 7.85), (-0.03, -0.12, 0.04), (-2.60, -4.37, -1.23)];
        for (int j = 0; j < printed.Length; j++)
        {
            Close.Printed(printed[j].Value, fit.Profile[j + 1].Value, 2);
            Close.Printed(printed[j].Lower, fit.Profile[j + 1].Interval.Lower, 2);
            Close.Printed(printed[j].Upper, fit.Profile[j + 1].Interval.Upper, 2);
        }
        Assert.Equal(["NV"], fit.SeparatedColumns);
        Assert.Equal(["NV"], Assert.Throws<SeparationError>(() => LogisticRegression.Fit(x, y)).Columns);
    }

    [Fact]
    public void Sparse_birth_weights_agree_with_plain_optimisation()
    {
        ReferenceCase data = ReferenceCase.Read("Binary/birthwt");
        int[] rows = [.. Enumerable.Range(0, 30), .. Enumerable.Range(130, 30)];
        double[] Take(string name, double scale) => [.. rows.Select(i => data.Column(name)[i] / scale)];
        DesignMatrix x = DesignMatrix.WithIntercept(("age", Take("age", 10)), ("lwt", Take("lwt", 100)), ("ht", Take("ht", 1)), ("ui", Take("ui", 1)));
        AssertEqual(ReferenceCase.Read("Binary/firth_birthwt"), FirthLogisticRegression.Fit(x, Take("low", 1)));
    }

    // The reference is a numerical optimum with numerical derivatives: good to about 1e-7.
    private static void AssertEqual(ReferenceCase reference, FirthFit fit)
    {
        for (int j = 0; j < fit.Profile.Count; j++)
        {
            Close.Relative(reference.Number($"cases/firth/coef/{j}"), fit.Profile[j].Value, 1e-6);
            Close.Relative(reference.Number($"cases/firth/se/{j}"), fit.Profile[j].StandardError, 1e-6);
            Close.Relative(reference.Number($"cases/firth/lower/{j}"), fit.Profile[j].Interval.Lower, 1e-6);
            Close.Relative(reference.Number($"cases/firth/upper/{j}"), fit.Profile[j].Interval.Upper, 1e-6);
            Close.Relative(reference.Number($"cases/firth/p/{j}"), fit.Profile[j].PValue, 1e-6);
        }
        Close.Relative(reference.Number("cases/firth/penalised_loglik"), fit.PenalizedLogLikelihood, 1e-10);
        Close.Relative(reference.Number("cases/firth/penalised_lr"), fit.LikelihoodRatioTest.Statistic, 1e-8);
    }

    [Fact]
    public void Profile_bounds_lie_where_the_penalised_likelihood_has_fallen_by_the_quantile()
    {
        (DesignMatrix x, double[] low) = LogisticRegressionTests.BirthWeights("age", "lwt", "ht");
        FirthFit fit = FirthLogisticRegression.Fit(x, low);
        GeneralizedLinearData data = GeneralizedLinearData.Check(x, OutcomeKind.Binary, true, low, [], []);
        FirthLikelihood held = new(x, data, GeneralizedLinearOptions.Default);
        foreach (double bound in new[] { fit.Profile[3].Interval.Lower, fit.Profile[3].Interval.Upper })
        {
            double[] start = [.. fit.Coefficients.Values];
            start[3] = bound;
            held.Maximize(start, [3]);
            Close.Relative(3.8414588206941285, 2 * (fit.PenalizedLogLikelihood - held.PenalizedLogLikelihood), 1e-8);
        }
        Assert.True(fit.Profile[3].Interval.Lower < fit.Profile[3].Value && fit.Profile[3].Value < fit.Profile[3].Interval.Upper);
    }

    [Fact]
    public void Plenty_of_data_bring_it_close_to_maximum_likelihood()
    {
        DesignMatrix x = LogisticRegressionTests.Knees("av", "lax");
        FirthFit penalised = FirthLogisticRegression.Fit(x, Peers.Cohort.Knees["any"]);
        GeneralizedLinearFit plain = LogisticRegression.Fit(x, Peers.Cohort.Knees["any"]);
        for (int j = 0; j < x.Columns; j++)
            Assert.True(Math.Abs(penalised.Coefficients.Values[j] - plain.Coefficients.Values[j]) < 0.05 * plain.Coefficients.StandardError(j));
        Assert.Empty(penalised.SeparatedColumns);
    }

    [Fact]
    public void Turning_the_outcome_round_turns_the_signs_round()
    {
        (DesignMatrix x, double[] low) = LogisticRegressionTests.BirthWeights("age", "smoke");
        FirthFit fit = FirthLogisticRegression.Fit(x, low);
        FirthFit turned = FirthLogisticRegression.Fit(x, [.. low.Select(y => 1 - y)]);
        for (int j = 0; j < x.Columns; j++)
        {
            Close.Relative(-fit.Coefficients.Values[j], turned.Coefficients.Values[j], 1e-7);
            Close.Relative(-fit.Profile[j].Interval.Lower, turned.Profile[j].Interval.Upper, 1e-7);
            Close.Relative(fit.Profile[j].PValue, turned.Profile[j].PValue, 1e-7);
        }
    }

    [Fact]
    public void Clusters_change_the_Wald_variance_and_are_warned_of()
    {
        DesignMatrix x = LogisticRegressionTests.Knees("av", "lax");
        Clusters persons = Clusters.From(Peers.Cohort.Knees.Person);
        FirthFit fit = FirthLogisticRegression.Fit(x, Peers.Cohort.Knees["any"], persons);
        Assert.Equal(persons.Count, fit.ClusterCount);
        Assert.Contains("independent", Assert.Single(fit.Warnings), StringComparison.Ordinal);
    }

    [Fact]
    public void No_event_is_too_little_data()
        => Assert.Throws<TooFewDataError>(() => FirthLogisticRegression.Fit(DesignMatrix.WithIntercept(("a", [1, 2, 3])), [0, 0, 0]));
}
