using RotationStudy.Study.Checks.Across;
using RotationStudy.Study.Checks.Declared;
using RotationStudy.Study.Checks.Rows;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Guard;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks;

/// <summary>Turns an export into records that may be used, findings, and an account of every row.</summary>
/// <remarks>
/// Cells are judged first, then rows (key, enrolment, roster, duplicates), then what holds across tables. A row is set
/// aside by the first rule that objects to it. Nothing is repaired. Kept rows are ordered by their key, so that what
/// follows does not depend on the order of rows in the export. When a file could not be read, the rest is still checked
/// by itself, so that one round of questions is enough; comparisons across tables wait. Data that identify people end it
/// before any of this: no account is given then, and no finding repeats a cell.
/// </remarks>
public static class RecordChecker
{
    /// <summary>Checks an export against its protocol.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="exports">The export as it was read with the same protocol.</param>
    /// <exception cref="InvalidOperationException">Rows were lost or invented: a defect of the program.</exception>
    public static CheckedRecords Check(StudyProtocol protocol, ExportFolder exports)
    {
        if (IdentityGuard.Look(protocol, exports) is { IsEmpty: false } identifying)
        {
            FindingList stopped = new([.. IdentityGuard.Harmless(exports.Findings), .. identifying]);
            return new CheckedRecords([.. protocol.Tables.Select(t => RecordBuilder.Build(t, null))], stopped.InOrder(), [], exports.Hashes) { Withdrawn = exports.Withdrawn };
        }
        FindingList findings = new(exports.Findings);
        bool complete = !findings.MustStop;
        ExportDraft export = ExportDraft.Of(protocol, exports);
        CheckRoster(export.Roster, protocol.Study, findings);
        foreach (TableDraft table in export.Tables.Where(t => t != export.Roster))
        {
            CellRule.Apply(table, findings);
            if (export.Roster is not null)
                RosterRule.Apply(table, export.Roster, findings);
            DuplicateRule.Apply(table, findings);
        }
        if (complete)
        {
            CheckAcross(export, protocol.Study, findings);
            DeclaredChecks.Apply(protocol, export, findings);
            HipFirstRule.Apply(export, protocol.Plan.HipGate, findings);
        }
        return new CheckedRecords(
            [.. protocol.Tables.Select(t => RecordBuilder.Build(t, export.Tables.FirstOrDefault(d => d.Definition == t)))],
            findings.InOrder(),
            [.. export.Tables.Select(RowAccounting.Of)],
            exports.Hashes)
        {
            Withdrawn = exports.Withdrawn,
        };
    }

    private static void CheckRoster(TableDraft? roster, StudyDescription study, FindingList findings)
    {
        if (roster is null)
            return;
        findings.LearnSites(roster);
        CellRule.Apply(roster, findings);
        DuplicateRule.Apply(roster, findings);
        LookAlike.Apply(roster, findings);
        SiteRule.Apply(roster, study, findings);
    }

    private static void CheckAcross(ExportDraft export, StudyDescription study, FindingList findings)
    {
        foreach (TableDraft table in export.Tables)
            VisitWindowRule.Apply(table, study, findings);
        VisitListRule.Apply(export, findings);
        ParticipantVisitRule.Apply(export, findings);
        LastContactRule.Apply(export, findings);
        ParticipantsRule.Apply(export, findings);
    }
}
