using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses;

/// <summary>What an analysis works on: the question, its complete rows and its model terms.</summary>
/// <param name="Protocol">The protocol.</param>
/// <param name="Measures">All measures.</param>
/// <param name="Question">The question.</param>
/// <param name="Table">Complete rows.</param>
/// <param name="Terms">Model terms.</param>
internal sealed record AnalysisInput(
    StudyProtocol Protocol, DerivedMeasures Measures, QuestionDefinition Question, AnalysisTable Table, ModelTerms Terms)
{
    private const int FewestClusters = 2;

    internal static AnalysisInput Prepare(StudyProtocol protocol, DerivedMeasures measures, QuestionDefinition question)
    {
        AnalysisTable table = TableBuilder.Build(measures, question.Rows, AnalysisRunner.NeededMeasures(question), question.Keep);
        return new AnalysisInput(protocol, measures, question, table, TermBuilder.Build(question, table));
    }

    /// <summary>Why no analysis can start, or null.</summary>
    internal string? Blocked
        => Table.Rows == 0 ? "no row has all the values that the question needs"
            : Question.Kind != QuestionKind.Baseline && Table.ParticipantCount < FewestClusters ? $"all rows belong to one {Protocol.Study.ParticipantWords.One}"
            : Terms.Blocked;

    /// <summary>Participants are the clusters of every analysis.</summary>
    internal Clusters Clusters() => Statistics.Clusters.From(Table.Participants);

    /// <summary>The values of a measure in the table.</summary>
    internal ImmutableArray<double> Values(string? measure) => Table[measure!].Values;

    /// <summary>The model's columns after a column of ones.</summary>
    internal DesignMatrix DesignWithIntercept()
        => Terms.Terms.Length == 0 ? DesignMatrix.InterceptOnly(Table.Rows) : DesignMatrix.WithIntercept([.. Columns()]);

    /// <summary>The model's columns alone.</summary>
    internal DesignMatrix Design() => DesignMatrix.FromColumns([.. Columns()]);

    /// <summary>How much the answer rests on.</summary>
    internal AnalysisCounts Counts(int events = 0, double timeAtRisk = 0)
        => new(Table.ParticipantCount, Table.UnitCount, Table.Rows, events, timeAtRisk, timeAtRisk > 0 ? Question.TimeUnit : null);

    /// <summary>A number of rows in words, such as "424 knees".</summary>
    internal string RowsInWords(int rows) => Table.Level switch
    {
        RowLevel.Participant => Protocol.Study.ParticipantWords.Count(rows),
        RowLevel.Unit => Protocol.Study.UnitWords!.Count(rows),
        _ => rows == 1 ? "1 row" : $"{rows} rows",
    };

    /// <summary>The rows in words, such as "512 knees of 261 participants".</summary>
    internal string RowsInWords()
    {
        string people = Protocol.Study.ParticipantWords.Count(Table.ParticipantCount);
        return Table.Level switch
        {
            RowLevel.Participant => people,
            RowLevel.Unit => $"{Protocol.Study.UnitWords!.Count(Table.Rows)} of {people}",
            RowLevel.Visit => $"{Table.Rows} visits of {people}",
            RowLevel.UnitVisit => $"{Table.Rows} visits of {Protocol.Study.UnitWords!.Count(Table.UnitCount)} of {people}",
            RowLevel.Week => $"{Table.Rows} weeks of {people}",
            _ => $"{Table.Rows} rows of {people}",
        };
    }

    /// <summary>The adjustment set in words, or that there is none.</summary>
    internal string AdjustmentInWords()
        => Question.Adjustment.Length == 0
            ? "not adjusted"
            : "adjusted for " + Sentences.List(Question.Adjustment.Select(a => Sentences.LowerFirst(Measures[a.Measure].Definition.Label)));

    /// <summary>A result without an estimate: why, and what to do.</summary>
    internal QuestionResult NotAnswered(string why, string hint)
        => Result($"No estimate can be given: {why}. {hint}", string.Empty) with { Answered = false };

    /// <summary>A result with the question's facts and nothing estimated yet.</summary>
    internal QuestionResult Result(string answer, string model)
        => new(
            Question.Id, Question.Title, Question.Asks, KindName(Question.Kind), true, answer, model,
            [], Counts(), Table.LeftOut, [], [], [], Terms.Omitted, [], [], []);

    internal static string KindName(QuestionKind kind) => kind switch
    {
        QuestionKind.TimeToFirst => "time_to_first",
        QuestionKind.AllEvents => "all_events",
        QuestionKind.Baseline => "baseline",
        QuestionKind.Mean => "mean",
        QuestionKind.Trajectory => "trajectory",
        QuestionKind.Odds => "odds",
        QuestionKind.Rate => "rate",
        QuestionKind.Agreement => "agreement",
        QuestionKind.OrderedOdds => "ordered_odds",
        QuestionKind.CompetingEvents => "competing_events",
        QuestionKind.WithinPerson => "within_person",
        QuestionKind.Curves => "curves",
        QuestionKind.RecurrentEvents => "recurrent_events",
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };

    private IEnumerable<(string Name, IReadOnlyList<double> Values)> Columns()
        => Terms.Terms.Select(t => (t.Name, (IReadOnlyList<double>)t.Values));
}
