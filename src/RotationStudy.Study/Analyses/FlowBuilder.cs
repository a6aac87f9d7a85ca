using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses;

/// <summary>Who was sent, who was used, and who was analysed in each question.</summary>
public static class FlowBuilder
{
    /// <summary>Builds the trunk (rows sent, participants used) and one branch per question.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="records">Checked records.</param>
    /// <param name="measures">All measures.</param>
    /// <param name="questions">Answers of the plan.</param>
    public static ImmutableArray<FlowStep> Build(
        StudyProtocol protocol, CheckedRecords records, DerivedMeasures measures, ImmutableArray<QuestionResult> questions)
    {
        ImmutableArray<FlowStep>.Builder steps = ImmutableArray.CreateBuilder<FlowStep>();
        int participants = measures.Keys.Participants.Length;
        int units = measures.Keys.Sides.Length * participants;
        RowAccount? roster = records.Accounts.FirstOrDefault(a => protocol.Table(a.Table).IsRoster);
        if (roster is not null)
        {
            steps.Add(new FlowStep("Rows in the roster as sent", roster.Read, 0, [], null));
            ImmutableArray<ReasonCount> leftOut = [.. roster.SetAside.Select(s => new ReasonCount(CheckCatalog.Reason(s.Rule, protocol), s.Rows, s.Rows))];
            steps.Add(new FlowStep("Enrolled and in the data", participants, units, leftOut, null));
        }
        else
        {
            steps.Add(new FlowStep("In the data", participants, units, [], null));
        }
        foreach (QuestionDefinition question in protocol.Plan.Questions)
        {
            QuestionResult answer = questions.First(q => q.Id == question.Id);
            AnalysisTable table = TableBuilder.Build(measures, question.Rows, AnalysisRunner.NeededMeasures(question), question.Keep);
            steps.Add(new FlowStep(question.Title, table.ParticipantCount, table.UnitCount, answer.LeftOut, question.Id));
        }
        return steps.ToImmutable();
    }
}
