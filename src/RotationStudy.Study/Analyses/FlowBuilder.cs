using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;
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
            ImmutableArray<ReasonCount> notEnrolled = Screened(protocol, records, roster.Read, steps);
            steps.Add(new FlowStep("Rows in the roster as sent", roster.Read, 0, notEnrolled, null));
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

    /// <summary>The box of those screened, and why the others were not enrolled. A log and a roster that disagree say so.</summary>
    private static ImmutableArray<ReasonCount> Screened(
        StudyProtocol protocol, CheckedRecords records, int rosterRows, ImmutableArray<FlowStep>.Builder steps)
    {
        if (protocol.Study.Screening is not { } log || records[log.Table] is not { Rows: > 0 } table)
            return [];
        CodeColumn outcome = (CodeColumn)table[log.Column];
        CodeColumn reason = (CodeColumn)table[log.ReasonColumn];
        steps.Add(new FlowStep("Screened", table.Rows, 0, [], null));
        int[] others = [.. Enumerable.Range(0, table.Rows).Where(r => !(outcome.HasValue(r) && log.EnrolledCodes.Contains(outcome.Definition.Codes[outcome.Indices[r]].Code)))];
        List<ReasonCount> reasons = [.. others
            .GroupBy(r => reason.HasValue(r) ? reason.Definition.Codes[reason.Indices[r]].Meaning : "no reason given")
            .OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => new ReasonCount(g.Key, 0, g.Count()))];
        int enrolled = table.Rows - others.Length;
        if (enrolled > rosterRows)
            reasons.Add(new ReasonCount("enrolled in the screening log, but not in the roster", 0, enrolled - rosterRows));
        if (enrolled < rosterRows)
            reasons.Add(new ReasonCount("in the roster, but not enrolled in the screening log (added here)", 0, rosterRows - enrolled));
        return [.. reasons];
    }
}
