using System.Collections.Immutable;
using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of study.yaml.</summary>
internal static class StudyRules
{
    private static readonly Place Top = PlaceBook.TopOf("study.yaml");

    internal static void Check(RuleContext context)
    {
        StudyDescription study = context.Protocol.Study;
        context.PlainName(study.Id, Top, "id");
        context.Unique(study.Sites.Select((s, i) => (s.Id, Top, $"sites[{i}].id")), "site");
        context.Unique(study.Visits.Select((v, i) => (v.Id, Top, $"visits[{i}].id")), "visit");
        CheckVisits(study.Visits, context);
        CheckFlow(study, context);
        if (context.Written(Top, "smallest_printed_count") && study.SmallestPrintedCount < 1)
        {
            context.Fault(
                Top, "smallest_printed_count", "The smallest printed count must be 1 or more.",
                "Write 1 to hide nothing, 5 to hide counts of 1 to 4.");
        }
        if (study.Seed < 0)
            context.Fault(Top, "seed", "The seed must not be negative.", "Write any whole number from 0 on.");
    }

    private static void CheckFlow(StudyDescription study, RuleContext context)
    {
        if (study.Screening is { } log)
        {
            TableDefinition? table = context.Table(Top, "screening.table", log.Table);
            ColumnDefinition? outcome = context.CodeColumn(Top, "screening.column", table, log.Column);
            for (int i = 0; i < log.EnrolledCodes.Length; i++)
                context.Code(Top, $"screening.enrolled_codes[{i}]", outcome, log.EnrolledCodes[i]);
            context.CodeColumn(Top, "screening.reason_column", table, log.ReasonColumn);
        }
        if (study.FollowUpEnd is not { } end)
            return;
        TableDefinition? roster = context.Table(Top, "follow_up_end.table", end.Table);
        if (roster is { IsRoster: false })
            context.Fault(Top, "follow_up_end.table", $"Table '{end.Table}' is not the roster.", "Name the table with a row per participant.");
        ColumnDefinition? way = context.CodeColumn(Top, "follow_up_end.column", roster, end.Column);
        for (int i = 0; i < end.AsPlannedCodes.Length; i++)
            context.Code(Top, $"follow_up_end.as_planned_codes[{i}]", way, end.AsPlannedCodes[i]);
        if (context.Column(Top, "follow_up_end.day_column", roster, end.DayColumn) is { } day && day.Type is not (ColumnType.Number or ColumnType.WholeNumber))
            context.Fault(Top, "follow_up_end.day_column", $"Column '{end.DayColumn}' holds no days.", "Name the day of last contact.");
        if (end.PlannedDays <= 0)
            context.Fault(Top, "follow_up_end.planned_days", "Planned follow-up must be longer than nothing.", "Write days, such as 730.");
    }

    private static void CheckVisits(ImmutableArray<VisitDefinition> visits, RuleContext context)
    {
        for (int i = 0; i < visits.Length; i++)
        {
            VisitDefinition visit = visits[i];
            if (visit.Earliest > visit.Day || visit.Day > visit.Latest)
            {
                context.Fault(
                    Top, $"visits[{i}].day",
                    $"The window of visit '{visit.Id}' does not hold its day: {visit.Earliest} to {visit.Latest} around {visit.Day}.",
                    "Order them earliest, day, latest.");
            }
            if (i > 0 && visit.Day <= visits[i - 1].Day)
            {
                context.Fault(
                    Top, $"visits[{i}].day", $"Visit '{visit.Id}' is not later than '{visits[i - 1].Id}'.",
                    "List visits in the order of their days.");
            }
        }
    }
}
