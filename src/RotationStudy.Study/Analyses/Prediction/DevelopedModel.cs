using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Prediction;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses.Prediction;

/// <summary>A model developed on the cohort: development, correction for optimism, and judgement on rows held out.</summary>
internal static class DevelopedModel
{
    internal static (PredictionResult Result, ImmutableArray<RiskPerformance> Risks) Build(StudyProtocol protocol, DerivedMeasures measures, PredictionModel model)
    {
        QuestionDefinition rows = PredictionAnalysis.Rows(
            model.Id, model.Title, model.Asks, model.Rows, model.Outcome, model.Keep,
            model.Predictors.Select(p => new ExposureTerm(p.Measure, p.Per, p.Center, p.Reference)), model.Place);
        AnalysisInput input = AnalysisInput.Prepare(protocol, measures, rows);
        PredictionResult result = Empty(input, model);
        if (input.Blocked is { } blocked)
            return (result with { Answer = $"No model can be developed: {blocked}." }, []);
        try
        {
            return Develop(input, model, result);
        }
        catch (StatisticsError error)
        {
            return (result with { Answer = $"No model can be developed: {error.What}. {error.Hint}" }, []);
        }
    }

    private static (PredictionResult Result, ImmutableArray<RiskPerformance> Risks) Develop(AnalysisInput input, PredictionModel model, PredictionResult result)
    {
        PopulationFilter held = new(model.HoldOut, input.Measures);
        int[] all = [.. Enumerable.Range(0, input.Table.Rows)];
        int[] apart = model.HoldOut is null ? [] : [.. all.Where(r => held.Holds(input.Table.Keys[r]))];
        PredictionSampleRows development = PredictionSampleRows.Of(input, [.. all.Except(apart)]);
        string[] names = [.. development.SpeakingTerms];
        ModelDevelopment steps = new(model, development.Design(names), development.Outcome, development.Persons, (ulong)input.Protocol.Study.Seed);
        CrossValidatedFit fit = steps.Develop();
        CorrectedPerformance corrected = steps.Correct();
        List<Judgement> judged = [Judge(development, "development", corrected)];
        if (apart.Length > 0)
            judged.Add(Judge(PredictionSampleRows.Of(input, apart), HeldOut(input, model), null));
        ImmutableArray<SampleNeed> needs = Needs(model, names.Length, development.People);
        return (result with
        {
            Answered = true,
            Counts = development.Counts,
            Answer = Sentence(judged, corrected),
            Method = Method(fit, steps, model, corrected),
            Terms = [new PredictionTerm("Intercept", fit.Fit.Intercept), .. names.Select((n, i) => new PredictionTerm(development.Label(n), fit.Fit.Values[i]))],
            Performance = [.. judged.SelectMany(j => j.Performance)],
            Decision = [.. judged.SelectMany(j => j.Decision)],
            SampleNeeds = needs,
            Items = ReportingItems.Of(input, model, development.Counts, judged.Count > 1),
            Warnings = [.. result.Warnings, .. Warnings(needs, corrected, judged.Count > 1)],
        }, [.. judged.Select(j => j.Risk)]);

        Judgement Judge(PredictionSampleRows sample, string words, CorrectedPerformance? optimism) => JudgedRisks.Of(
            new JudgedSample(
                model.Id, model.Title, result.Outcome, words, sample.Counts,
                PredictedRisks.From(sample.Happened, fit.Fit.Risks(sample.Design(names)), sample.Persons), model.Thresholds),
            optimism);
    }

    private static PredictionResult Empty(AnalysisInput input, PredictionModel model) => new(
        model.Id, "model", model.Title, model.Asks,
        $"{Sentences.LowerFirst(input.Measures[model.Outcome].Definition.Label)}, {model.Horizon}", false, string.Empty, string.Empty,
        input.Counts(), input.Table.LeftOut, [], [], [], [], [], [], [], [],
        [
            .. PredictionAnalysis.Citations,
            "Harrell FE, Lee KL, Mark DB. Multivariable prognostic models. Stat Med 1996;15:361-387.",
            "Riley RD and others. Calculating the sample size required for developing a clinical prediction model. BMJ 2020;368:m441.",
        ],
        PredictionAnalysis.Cautions);

    private static string HeldOut(AnalysisInput input, PredictionModel model)
    {
        MeasureColumn by = input.Measures[model.HoldOut!.Measure];
        return $"held out: {Sentences.List(model.HoldOut.Codes.Select(c => by.Codes.First(d => d.Code == c).Meaning))}";
    }

    private static ImmutableArray<SampleNeed> Needs(PredictionModel model, int parameters, int people)
    {
        PredictionSample sample = PredictionSampleSize.For(ExpectedModel.FromNagelkerke(parameters, model.Expected.Share, model.Expected.Nagelkerke));
        SampleNeed Need(string criterion, int persons) => new(criterion, persons, people >= persons);
        return
        [
            Need("Shrinkage of coefficients expected no stronger than 0.9", sample.Shrinkage),
            Need("Optimism of at most 0.05 in R squared", sample.Optimism),
            Need("Overall risk known to within 0.05", sample.OverallRisk),
            Need("Mean error of predicted risks of at most 0.05", sample.PredictionError),
        ];
    }

    private static string Method(CrossValidatedFit fit, ModelDevelopment steps, PredictionModel model, CorrectedPerformance corrected)
    {
        string penalty = steps.Penalty == CoefficientPenalty.Lasso ? "lasso" : "ridge";
        string failed = corrected.Failures == 0 ? string.Empty : string.Create(CultureInfo.InvariantCulture, $" ({corrected.Failures} more allowed no model)");
        return string.Create(CultureInfo.InvariantCulture,
            $"Logistic regression with a {penalty} penalty; its strength ({Sentences.Number(fit.Fit.Strength)}) is the one of the smallest deviance in {model.Folds}-fold cross-validation over persons. Optimism is the mean of {corrected.Replicates} resamples of persons{failed}, each of which repeats every step, the choice of the strength included.");
    }

    private static string Sentence(List<Judgement> judged, CorrectedPerformance corrected)
    {
        CorrectedMeasure area = corrected[JudgedRisks.Area];
        string inside = $"Area under the curve {Sentences.Number(area.Apparent)} where it was developed, {Sentences.Number(area.Corrected)} corrected for optimism; calibration slope {Sentences.Number(corrected[JudgedRisks.Slope].Corrected)} corrected.";
        if (judged.Count == 1)
            return inside;
        RiskPerformance other = judged[1].Risk;
        return $"{inside} On rows that took no part in development: area {Words(other.Discrimination.Area)}, calibration slope {Words(other.Calibration.Slope)}, observed over expected {Words(other.Calibration.ObservedOverExpected)}.";
    }

    private static string Words(NumberWithInterval n) => $"{Sentences.Number(n.Value)} (95% CI {Sentences.Number(n.Lower)} to {Sentences.Number(n.Upper)})";

    private static IEnumerable<string> Warnings(ImmutableArray<SampleNeed> needs, CorrectedPerformance corrected, bool validated)
    {
        if (needs.Any(n => !n.Met))
            yield return string.Create(CultureInfo.InvariantCulture, $"The cohort is too small for this model: the criteria ask for {needs.Max(n => n.Persons)} persons. Predicted risks are uncertain even where the corrected performance looks well.");
        if (corrected.Failures > 0)
            yield return string.Create(CultureInfo.InvariantCulture, $"{corrected.Failures} resamples allowed no model, a sign that events are few.");
        if (!validated)
            yield return "Nothing was held out: how the model does elsewhere is not known.";
    }
}
