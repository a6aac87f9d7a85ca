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
        if (context.Written(Top, "smallest_printed_count") && study.SmallestPrintedCount < 1)
        {
            context.Fault(
                Top, "smallest_printed_count", "The smallest printed count must be 1 or more.",
                "Write 1 to hide nothing, 5 to hide counts of 1 to 4.");
        }
        if (study.Seed < 0)
            context.Fault(Top, "seed", "The seed must not be negative.", "Write any whole number from 0 on.");
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
