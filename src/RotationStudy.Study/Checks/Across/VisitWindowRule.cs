using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Across;

/// <summary>Asks about visits that took place outside their window.</summary>
internal static class VisitWindowRule
{
    internal static void Apply(TableDraft table, StudyDescription study, FindingList findings)
    {
        if (table.Column(ColumnRole.Visit) is not { Definition.Type: ColumnType.Code } visit || table.Column(ColumnRole.Day) is not { } day)
            return;
        foreach (int row in table.Order)
        {
            if (!day[row].HasValue || !visit[row].HasValue)
                continue;
            VisitDefinition planned = study.Visits[visit[row].Code];
            double happened = day[row].Number;
            if (happened >= planned.Earliest && happened <= planned.Latest)
                continue;
            findings.Add(
                CheckCatalog.VisitWindow, table, row, day,
                FormattableString.Invariant($"day {planned.Earliest} to {planned.Latest}"),
                FormattableString.Invariant($"The visit '{planned.Id}' took place on day {happened}, outside its window. Please confirm day and visit."));
        }
    }
}
