namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads prediction.yaml.</summary>
internal static class PredictionReader
{
    internal const string File = "prediction.yaml";

    internal static PredictionPlan Read(YamlSection top)
    {
        PredictionPlan plan = new([.. top.Owners("models", "model").Select(ReadModel)], [.. top.Owners("scores", "score").Select(ReadScore)]);
        if (!top.Has("models") && !top.Has("scores"))
            top.Need("models", "List models to develop, or 'scores' to apply.");
        top.Close();
        return plan;
    }

    private static PredictionModel ReadModel(YamlSection section)
    {
        PredictionModel model = new(
            section.Text("id"), section.Text("title"), section.Text("asks"),
            section.Word<RowLevel>("rows") ?? RowLevel.Participant,
            section.Text("outcome"), section.Text("horizon"), PlanReader.ReadFilter(section),
            PlanReader.AdjustmentTerms(section, "predictors"),
            section.Word<PredictionPenalty>("penalty") ?? PredictionPenalty.Ridge,
            section.WholeNumber("folds"), section.WholeNumber("resamples"),
            ReadHoldOut(section), section.Numbers("thresholds"), ReadExpected(section), section.Place);
        section.Need("predictors", "List what is considered, each with its reason.");
        section.Need("thresholds", "List the risks at which somebody might act, such as [0.1, 0.2, 0.3].");
        section.Close();
        return model;
    }

    private static RowFilter? ReadHoldOut(YamlSection section)
    {
        if (section.Section("hold_out") is not { } held)
            return null;
        RowFilter filter = new(held.Text("measure"), held.Texts("codes"));
        held.Need("codes", "List the codes of the rows that take no part in development.");
        held.Close();
        return filter;
    }

    private static ExpectedPrediction ReadExpected(YamlSection section)
    {
        section.Need("expected", "State the expected share and R squared before the data are opened.");
        if (section.Section("expected") is not { } expected)
            return new ExpectedPrediction(0.5, 0.1, string.Empty);
        ExpectedPrediction read = new(expected.Number("share"), expected.Number("nagelkerke"), expected.Text("source"));
        expected.Close();
        return read;
    }

    private static RiskScore ReadScore(YamlSection section)
    {
        RiskScore score = new(
            section.Text("id"), section.Text("title"), section.Text("source"),
            section.Word<RowLevel>("rows") ?? RowLevel.Participant,
            section.Text("outcome"), section.Text("horizon"), PlanReader.ReadFilter(section),
            [.. section.Sections("factors").Select(ReadFactor)], [.. section.Sections("risks").Select(ReadRisk)],
            section.Texts("mapping"), section.Texts("unconfirmed"), section.Numbers("thresholds"), section.Place);
        section.Need("factors", "List what gives points.");
        section.Need("risks", "List the published risk of each number of points that could be confirmed.");
        section.Need("mapping", "Say how variables, people and outcome here stand for those of the publication.");
        section.Need("thresholds", "List the risks at which somebody might act, such as [0.1, 0.2, 0.3].");
        section.Close();
        return score;
    }

    private static ScoreFactor ReadFactor(YamlSection section)
    {
        ScoreFactor factor = new(
            section.Text("measure"), section.Text("label"), section.Has("points") ? section.WholeNumber("points") : 1,
            Bound(section, "at_least"), Bound(section, "more_than"), Bound(section, "below"), section.Texts("codes"), section.FlagOrFalse("other_side"));
        section.Touch("points");
        section.Close();
        return factor;
    }

    private static double? Bound(YamlSection section, string key)
    {
        section.Touch(key);
        return section.Has(key) ? section.Number(key) : null;
    }

    private static ScoreRisk ReadRisk(YamlSection section)
    {
        ScoreRisk risk = new(section.WholeNumber("points"), section.Number("risk"));
        section.Close();
        return risk;
    }
}
