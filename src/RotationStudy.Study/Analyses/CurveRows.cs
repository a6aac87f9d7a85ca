using RotationStudy.Study.Analyses.Pictures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses;

/// <summary>The rows that curves by group are drawn from: those with a time and a group, whatever the covariates of the model.</summary>
/// <param name="Input">The question on these rows; it has no model terms.</param>
/// <param name="Groups">Group of each row in words; empty text where the question names no groups.</param>
/// <param name="Names">The groups that occur, in declared order.</param>
internal sealed record CurveRows(AnalysisInput Input, string[] Groups, string[] Names)
{
    internal static CurveRows Of(AnalysisInput input)
    {
        QuestionDefinition question = input.Question;
        IEnumerable<string?> timed = question.Kind switch
        {
            QuestionKind.RecurrentEvents => [question.Outcome, question.FollowUp, question.Event],
            QuestionKind.Rate => [question.Outcome, question.FollowUp],
            _ => [question.Entry, question.Exit, question.Event],
        };
        AnalysisTable table = TableBuilder.Build(input.Measures, question.Rows, [.. timed.Append(question.GroupBy).OfType<string>()], question.Keep);
        RowGroups groups = RowGroups.In(table, question.GroupBy is { } by ? input.Measures[by] : null);
        return new CurveRows(
            input with { Table = table, Terms = new ModelTerms([], [], null) },
            [.. groups.Of.Select(g => groups.Names[g])], table.Rows == 0 ? [] : [.. groups.Names]);
    }
}
