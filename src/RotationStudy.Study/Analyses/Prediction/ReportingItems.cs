using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Prediction;

/// <summary>The items of TRIPOD 2015 for a developed model, with what the report says to each; what only people can write is said to be theirs.</summary>
/// <remarks>Numbers and topics: Collins GS et al. BMJ 2015;350:g7594, recalled, not re-read; wording is ours. TRIPOD+AI (Collins GS et al. BMJ 2024;385:e078378) numbers them anew.</remarks>
internal static class ReportingItems
{
    private const string Authors = "To be written by the authors.";

    internal static ImmutableArray<ReportingItem> Of(AnalysisInput input, PredictionModel model, AnalysisCounts counts, bool validated)
    {
        StudyDescription study = input.Protocol.Study;
        string predictors = Sentences.List(model.Predictors.Select(p => Sentences.LowerFirst(input.Measures[p.Measure].Definition.Label)));
        string sample = string.Create(CultureInfo.InvariantCulture, $"{counts.Rows} rows of {counts.Participants} {study.ParticipantWords.Many}, {counts.Events} with the outcome");
        return
        [
            new("1 Title, 2 Abstract", $"{model.Title}: development{(validated ? " and validation" : " and internal validation")}. Abstract: {Sentences.LowerFirst(Authors)}"),
            new("3 Background and objectives", $"{model.Asks} Background: {Sentences.LowerFirst(Authors)}"),
            new("4 Source of data", $"{study.Design}. {study.Source}"),
            new("5 Participants", study.Eligibility.IsEmpty ? Authors : string.Join(" ", study.Eligibility)),
            new("6 Outcome", $"{input.Measures[model.Outcome].Definition.Label}, {model.Horizon}; definition in the appendix of measures. Who assessed it, blinded to what: {Sentences.LowerFirst(Authors)}"),
            new("7 Predictors", $"{predictors}; definitions and time in the appendix of measures, reasons in prediction.yaml."),
            new("8 Sample size", "Criteria of Riley and others, in the table of sample size, from expectations that the protocol states."),
            new("9 Missing data", "Rows with all values; those left out are counted by reason below. No imputation."),
            new("10 Statistical analysis", $"Penalised logistic regression ({(model.Penalty == PredictionPenalty.Lasso ? "lasso" : "ridge")}), cross-validation and bootstrap over persons; see the method."),
            new("11 Risk groups", "None are made."),
            new("12 Development and validation", validated ? "The held-out rows are named beside their performance; setting and definitions are those of the same protocol." : "No rows were held out."),
            new("13 Participants", $"{sample}. Characteristics: the baseline table of the plan."),
            new("14 Model development", $"{sample}. Associations of single predictors are not shown."),
            new("15 Model specification", "All coefficients with the intercept are in the table of coefficients."),
            new("16 Model performance", "Discrimination, calibration, Brier score and net benefit with intervals, apparent and corrected."),
            new("17 Model updating", "None."),
            new("18 Limitations", $"See the warnings. Others: {Sentences.LowerFirst(Authors)}"),
            new("19 Interpretation, 20 Implications", $"For research only, no tool for the bedside. {Authors}"),
            new("21 Supplementary information", "results.json of this run and the protocol folder."),
            new("22 Funding", Authors),
        ];
    }
}
