using System.Collections.Immutable;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Analyses.Choices;
using RotationStudy.Study.Analyses.Pictures;
using RotationStudy.Study.Analyses.Prediction;
using RotationStudy.Study.Analyses.Sites;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Trace;

namespace RotationStudy.Study;

/// <summary>The whole way from checked records to results; reading it is learning the system.</summary>
public static class StudyPipeline
{
    /// <summary>Carries out the plan on checked records.</summary>
    /// <param name="protocol">The protocol, as read.</param>
    /// <param name="records">Records without a finding that stops.</param>
    /// <param name="programVersion">Version of the program, for the record of the run.</param>
    /// <param name="progress">Told the name of each step as it begins; null for silence.</param>
    /// <exception cref="InvalidOperationException">The records hold a finding that stops, or an account of rows does not balance.</exception>
    public static StudyResults Run(StudyProtocol protocol, CheckedRecords records, string programVersion, IProgress<string>? progress = null)
    {
        if (records.MustStop)
            throw new InvalidOperationException("These records hold a finding that stops the run.");
        if (records.Accounts.FirstOrDefault(a => !a.Balances) is { } unbalanced)
            throw new InvalidOperationException($"The rows of {unbalanced.File} do not add up: read {unbalanced.Read}, used {unbalanced.Used}.");
        progress?.Report("Deriving measures");
        DerivedMeasures measures = MeasureDeriver.Derive(protocol, records);
        ImmutableArray<PlanFaultLine> faults = PlanCheck.Check(protocol, measures);
        progress?.Report($"Answering {protocol.Plan.Questions.Length} questions");
        ImmutableArray<QuestionResult> questions = FamilyAdjustment.Apply(protocol.Plan, Answers(protocol, measures, faults));
        progress?.Report("Noting where each number comes from");
        ImmutableArray<QuestionTraces> traces = [.. protocol.Plan.Questions.Select(q => QuestionTraces.Of(protocol, records, measures, q))];
        if (!protocol.Plan.Choices.IsEmpty)
            progress?.Report("Carrying out every combination of the plan's choices");
        if (protocol.Prediction is not null)
            progress?.Report("Developing and judging predictions");
        (ImmutableArray<PredictionResult> predictions, ImmutableArray<RiskPerformance> risks) = PredictionAnalysis.Build(protocol, measures);
        return new StudyResults(
            StudyFactsBuilder.Facts(protocol),
            StudyFactsBuilder.Provenance(protocol, records, programVersion),
            StudyFactsBuilder.Accounts(protocol, records),
            DataQualityBuilder.Build(protocol, records, measures),
            FlowBuilder.Build(protocol, records, measures, questions),
            [.. questions.Zip(traces, (q, t) => q with { Trace = t.Trace })],
            StudyFactsBuilder.Measures(protocol, measures),
            StudyFactsBuilder.Figures(protocol))
        {
            FollowUp = FollowUpFactsBuilder.Build(protocol, records),
            Missing = MissingFactsBuilder.Build(protocol, records, measures),
            PlanFaults = faults,
            Scores = ScoreReadingsBuilder.Build(protocol, measures),
            Predictions = predictions,
            Risks = risks,
            SiteEffects = SiteEffectsAnalysis.Build(protocol, measures),
            Tracking = [.. questions.Select(q => q.Tracking).OfType<TrackingResult>()],
            Gardens = ChoiceGardens.Build(protocol, records, measures),
            Values = FigureValuesBuilder.Build(protocol, records, measures),
            Course = CourseBuilder.Build(protocol, records, measures),
            Stages = [.. StageHashes.Of(records), .. StageHashes.Of(measures), .. protocol.Plan.Questions.Zip(traces, (q, t) => new StageHash(StageHash.Tables, q.Id, t.Trace.Rows, t.Trace.RowsSha256))],
            Seal = protocol.Seal,
            Streams = RandomUses.Of(protocol),
            Rows = [.. traces.Select(t => t.Rows)],
        };
    }

    /// <summary>Questions are answered at the same time where there are cores; none sees another, so the answers are the same.</summary>
    private static ImmutableArray<QuestionResult> Answers(StudyProtocol protocol, DerivedMeasures measures, ImmutableArray<PlanFaultLine> faults)
    {
        ImmutableArray<QuestionDefinition> plan = protocol.Plan.Questions;
        QuestionResult[] answers = new QuestionResult[plan.Length];
        Parallel.For(0, plan.Length, i => answers[i] = PlanCheck.Refusal(protocol, measures, plan[i], faults) ?? AnalysisRunner.AnswerInFull(protocol, measures, plan[i]));
        return [.. answers];
    }
}
