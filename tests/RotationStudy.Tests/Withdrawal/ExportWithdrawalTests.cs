using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;
using RotationStudy.Study.Withdrawal;

namespace RotationStudy.Tests.Withdrawal;

public sealed class ExportWithdrawalTests
{
    [Fact]
    public void Nothing_but_a_count_is_left_of_a_participant_whatever_was_wrong_with_the_rows()
    {
        using TestExport export = TestExport.Clean()
            .Set("outcomes.csv", 2, "pain_0_10", "98")
            .Set("knee_exams.csv", 2, "hip_finding", "painful")
            .AddRow("visits.csv", "A-001,baseline,0")
            .AddRow("events.csv", "a-001 ,L,9,20,dislocation,none")
            .AddRow("events.csv", "A-1,L,9,20,dislocation,none");
        CheckedRecords records = Without(export, "A-001");
        Assert.DoesNotContain(records.Findings, f => f.ToString().Contains("A-001", StringComparison.OrdinalIgnoreCase) || f.ToString().Contains("A-1", StringComparison.Ordinal));
        Assert.DoesNotContain("A-001", ((IdentifierColumn)records["visits"]["participant_id"]).Values);
        Finding count = Assert.Single(records.Findings);
        Assert.Equal("consent.withdrawn", count.Rule);
        Assert.StartsWith("1 participant who withdrew consent was removed with 20 rows", count.Message, StringComparison.Ordinal);
        Assert.Equal(1, records.Withdrawn);
        Assert.All(records.Accounts, a => Assert.True(a.Balances));
        RowAccount roster = records.Accounts.Single(a => a.Table == "participants");
        Assert.Equal((4, 3), (roster.Read, roster.Used));
        Assert.Equal(new RuleCount("consent.withdrawn", 1), Assert.Single(roster.SetAside));
    }

    [Fact]
    public void The_others_are_what_they_are_without_the_person_in_the_export()
    {
        using TestExport with = TestExport.Clean();
        CheckedRecords withdrawn = Without(with, "A-001");
        using TestExport never = TestExport.Clean();
        foreach (string file in new[] { "participants.csv", "visits.csv", "knee_exams.csv", "laxity.csv", "imaging.csv", "outcomes.csv", "events.csv", "milestones.csv" })
            never.RemoveRows(file, "A-001,");
        CheckedRecords without = never.Check();
        foreach ((RecordTable one, RecordTable other) in withdrawn.Tables.Zip(without.Tables))
        {
            Assert.Equal(one.Rows, other.Rows);
            foreach ((RecordColumn a, RecordColumn b) in one.Columns.Zip(other.Columns))
                Assert.Equal(Enumerable.Range(0, one.Rows).Select(r => Cell(a, r)), Enumerable.Range(0, one.Rows).Select(r => Cell(b, r)));
        }
    }

    [Fact]
    public void An_identifier_that_looks_alike_and_is_somebody_else_s_stays()
    {
        using TestExport export = TestExport.Clean().AddRow("participants.csv", "A-01,A,F,14,open,165,58.5,800,study_end,yes");
        CheckedRecords records = Without(export, "A-001");
        Assert.Contains("A-01", ((IdentifierColumn)records["participants"]["participant_id"]).Values);
    }

    [Fact]
    public void An_identifier_that_is_nowhere_is_told_by_its_line_only()
    {
        using TestExport export = TestExport.Clean();
        Finding count = Assert.Single(Without(export, "A-001", "Q-777").Findings);
        Assert.Contains("1 identifier of the list (line 2 of the list) occurs nowhere here", count.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("777", count.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_name_in_a_row_of_theirs_does_not_stop_the_others()
    {
        using TestExport export = TestExport.Clean().Set("participants.csv", 2, "sex", "12.03.2009");
        Assert.True(export.Check().MustStop);
        Assert.False(Without(export, "A-001").MustStop);
    }

    private static string? Cell(RecordColumn column, int row) => column.MissingReason(row) ?? column switch
    {
        NumberColumn number => FormattableString.Invariant($"{number.Values[row]}"),
        CodeColumn code => code.Definition.Codes[code.Indices[row]].Code,
        IdentifierColumn text => text.Values[row],
        _ => null,
    };

    private static CheckedRecords Without(TestExport export, params string[] ids)
    {
        StudyProtocol protocol = TestExport.Protocol;
        ExportFolder left = ExportWithdrawal.Apply(export.Read(), protocol, WithdrawnIds.Of(ids));
        return RecordChecker.Check(protocol, left);
    }
}
