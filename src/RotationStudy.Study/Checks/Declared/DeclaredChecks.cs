using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>Carries out the checks of checks.yaml, in declared order.</summary>
/// <remarks>
/// A check whose table, or other table, is not in the export is left out: that a file is missing is a finding of its own.
/// Rows that a check sets aside are gone for later checks.
/// </remarks>
internal static class DeclaredChecks
{
    internal static void Apply(StudyProtocol protocol, ExportDraft export, FindingList findings)
    {
        CheckedRows rows = new(export, findings);
        foreach (CheckDefinition check in protocol.Checks)
        {
            if (rows.Table(check.Table) is { } table)
                Apply(check, table, rows);
        }
    }

    /// <summary>The rule that the findings of a check carry.</summary>
    internal static CheckRule RuleOf(CheckDefinition check) => new(check.Id, check.Severity, check.Label, check.Says);

    private static void Apply(CheckDefinition check, TableDraft table, CheckedRows rows)
    {
        RowReport report = new(RuleOf(check), table, rows);
        switch (check)
        {
            case LastDigitCheck c:
                LastDigit.Apply(c, table, report);
                break;
            case RequiredIfCheck c:
                WithinRow.Apply(c, table, report);
                break;
            case RangeIfCheck c:
                WithinRow.Apply(c, table, report);
                break;
            case PairRangeCheck c:
                WithinRow.Apply(c, table, report);
                break;
            case StatedScoreCheck c:
                StatedScore.Apply(c, table, report);
                break;
            case EqualSidesCheck c:
                EqualSides.Apply(c, table, report);
                break;
            case ChangeCheck c:
                Change.Apply(c, table, rows, report);
                break;
            case PartnerCheck c:
                Partner.Apply(c, table, rows, report);
                break;
            case EventOrderCheck c:
                EventOrder.Apply(c, table, rows, report);
                break;
            case RaterDifferenceCheck c:
                RaterDifference.Apply(c, table, report);
                break;
            case RepeatedContentCheck c:
                RepeatedContent.Apply(c, table, report);
                break;
            case OutlierCheck c:
                Outlier.Apply(c, table, rows, report);
                break;
            default:
                throw new NotSupportedException($"A check of kind {check.Kind} is not carried out.");
        }
        report.Finish();
    }
}
