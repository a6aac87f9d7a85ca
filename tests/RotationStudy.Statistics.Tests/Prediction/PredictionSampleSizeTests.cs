using RotationStudy.Statistics.Prediction;

namespace RotationStudy.Statistics.Tests.Prediction;

/// <summary>The totals are recalled from the papers, not re-read; the events per parameter are printed in the abstract of Riley 2019.</summary>
public class PredictionSampleSizeTests
{
    [Fact]
    public void The_example_of_a_diagnostic_model_for_chagas_disease()
    {
        // Riley RD et al., Stat Med 2019;38:1276, abstract: at least 4.8 events per parameter.
        PredictionSample found = PredictionSampleSize.For(new ExpectedModel(24, 0.174, 0.288));
        Assert.Equal((623, 662, 221), (found.Shrinkage, found.Optimism, found.OverallRisk));
        // That paper has the first three criteria only.
        Close.Printed(4.8, found.Optimism * 0.174 / 24, 1);
    }

    [Fact]
    public void The_example_of_a_model_for_pre_eclampsia()
    {
        // Riley RD et al., BMJ 2020;368:m441: 5% with the outcome, 30 parameters, R squared of 15% of the largest possible, rounded to 0.05.
        ExpectedModel expected = new(30, 0.05, 0.05);
        Close.Printed(0.33, expected.LargestExplainedVariation, 2);
        PredictionSample found = PredictionSampleSize.For(expected);
        Assert.Equal((5249, 73, 544), (found.Shrinkage, found.OverallRisk, found.PredictionError));
        Assert.Equal(5249, found.Rows);
        Close.Printed(8.75, found.EventsPerParameter, 2);
    }

    [Fact]
    public void R_squared_of_nagelkerke_is_relative_to_the_largest()
    {
        ExpectedModel expected = ExpectedModel.FromNagelkerke(8, 0.35, 0.2);
        Close.Relative(0.2 * expected.LargestExplainedVariation, expected.ExplainedVariation, 1e-14);
        Assert.Equal(455, PredictionSampleSize.For(expected).Shrinkage);
    }

    [Fact]
    public void What_cannot_be_reached_is_refused()
    {
        Assert.Contains("cannot be expected", Assert.Throws<InvalidInputError>(() => PredictionSampleSize.For(new ExpectedModel(5, 0.05, 0.4))).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => PredictionSampleSize.For(new ExpectedModel(0, 0.3, 0.1)));
        Assert.Throws<InvalidInputError>(() => PredictionSampleSize.For(new ExpectedModel(5, 1, 0.1)));
    }
}
