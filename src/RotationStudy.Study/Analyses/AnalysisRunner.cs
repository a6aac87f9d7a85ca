using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Study.Analyses.Agreement;
using RotationStudy.Study.Analyses.Pictures;
using RotationStudy.Study.Analyses.Tracking;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Answers the questions of the plan, in order. A question that cannot be answered says why; it never stops the others.</summary>
public static class AnalysisRunner
{
    /// <summary>Answers one question.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="measures">All measures.</param>
    /// <param name="question">The question.</param>
    public static QuestionResult Answer(StudyProtocol protocol, DerivedMeasures measures, QuestionDefinition question)
    {
        AnalysisInput input = AnalysisInput.Prepare(protocol, measures, question);
        if (input.Blocked is { } blocked)
            return input.NotAnswered(blocked, "The question needs other data or another exposure.");
        try
        {
            return question.Kind switch
            {
                QuestionKind.Baseline => BaselineAnalysis.Answer(input),
                QuestionKind.Mean => MeanAnalysis.Answer(input),
                QuestionKind.Trajectory => TrajectoryAnalysis.Answer(input),
                QuestionKind.Odds => OddsAnalysis.Answer(input),
                QuestionKind.Rate => RateAnalysis.Answer(input),
                QuestionKind.TimeToFirst => TimeToFirstAnalysis.Answer(input),
                QuestionKind.AllEvents => AllEventsAnalysis.Answer(input),
                QuestionKind.Agreement => AgreementAnalysis.Answer(input),
                QuestionKind.Curves => CurvesAnalysis.Answer(input),
                QuestionKind.OrderedOdds => OrderedOddsAnalysis.Answer(input),
                QuestionKind.CompetingEvents => CompetingEventsAnalysis.Answer(input),
                QuestionKind.WithinPerson => WithinPersonAnalysis.Answer(input),
                QuestionKind.RecurrentEvents => RecurrentEventsAnalysis.Answer(input),
                _ => throw new NotSupportedException($"Question kind {question.Kind} has no analysis."),
            };
        }
        catch (StatisticsError error)
        {
            return input.NotAnswered(error.What, error.Hint);
        }
    }

    /// <summary>Answers one question with all that stands beside it: sensitivity analyses, curves, influence, missing data, unmeasured confounding.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="measures">All measures.</param>
    /// <param name="question">The question.</param>
    public static QuestionResult AnswerInFull(StudyProtocol protocol, DerivedMeasures measures, QuestionDefinition question)
        => QuestionSupplements.Add(protocol, measures, question, Answer(protocol, measures, question)) with { Rising = Rising(protocol, measures, question) };

    /// <summary>Curves that rise from zero stand on their own, even where the model cannot be fitted.</summary>
    private static ImmutableArray<RisingCurves> Rising(StudyProtocol protocol, DerivedMeasures measures, QuestionDefinition question)
    {
        if (question.Kind is not (QuestionKind.Rate or QuestionKind.AllEvents or QuestionKind.CompetingEvents or QuestionKind.RecurrentEvents))
            return [];
        CurveRows drawn = CurveRows.Of(AnalysisInput.Prepare(protocol, measures, question));
        AnalysisInput input = drawn.Input;
        try
        {
            return input.Table.ParticipantCount < 2 ? []
                : question.Kind is QuestionKind.Rate or QuestionKind.RecurrentEvents ? MeanEventCurves.OfCounts(input)
                : question.Kind == QuestionKind.AllEvents ? MeanEventCurves.OfIntervals(input)
                : IncidenceCurves.Of(drawn);
        }
        catch (StatisticsError)
        {
            // The question itself says what is wrong with its rows.
            return [];
        }
    }

    /// <summary>The measures that every row of a question's table must have, in the order in which a gap is blamed.</summary>
    public static ImmutableArray<string> NeededMeasures(QuestionDefinition question)
    {
        IEnumerable<string?> outcome = [question.Outcome, question.FollowUp, question.Entry, question.Exit, question.Event];
        IEnumerable<string?> terms = [.. question.Exposures.Select(e => e.Measure), .. question.Adjustment.Select(a => a.Measure), question.RandomSlope];
        // Baseline groups are needed; curves by group draw the rows that have a group and leave the model untouched.
        IEnumerable<string?> group = question.Kind is QuestionKind.Baseline or QuestionKind.Curves ? [question.GroupBy] : [];
        return [.. outcome.Concat(terms).Concat(group).OfType<string>().Distinct(StringComparer.Ordinal)];
    }
}
