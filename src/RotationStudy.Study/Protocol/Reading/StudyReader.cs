using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads study.yaml.</summary>
internal static class StudyReader
{
    internal static StudyDescription Read(YamlSection top)
    {
        StudyDescription study = new(
            Id: top.Text("id"),
            Title: top.Text("title"),
            Purpose: top.Text("purpose"),
            Design: top.Text("design"),
            Source: top.Text("source"),
            Version: top.Text("version"),
            ParticipantWords: ReadWords(top, "participant_words") ?? new Words("participant", "participants"),
            UnitWords: ReadWords(top, "unit_words"),
            Eligibility: top.Texts("eligibility"),
            Sites: ReadSites(top),
            Visits: ReadVisits(top),
            Seed: top.WholeNumber("seed"),
            SmallestPrintedCount: top.WholeNumber("smallest_printed_count"),
            Cautions: top.Texts("cautions"))
        {
            Screening = ReadScreening(top),
            FollowUpEnd = ReadFollowUpEnd(top),
        };
        top.Need("participant_words", "Say what a participant is called, as { one: participant, many: participants }.");
        top.Need("cautions", "Every report prints the cautions of its study.");
        top.Close();
        return study;
    }

    private static ScreeningLog? ReadScreening(YamlSection top)
    {
        if (top.Section("screening") is not { } section)
            return null;
        ScreeningLog log = new(section.Text("table"), section.Text("column"), section.Texts("enrolled_codes"), section.Text("reason_column"));
        section.Need("enrolled_codes", "List the codes of those who were enrolled.");
        section.Close();
        return log;
    }

    private static FollowUpEnd? ReadFollowUpEnd(YamlSection top)
    {
        if (top.Section("follow_up_end") is not { } section)
            return null;
        FollowUpEnd end = new(
            section.Text("table"), section.Text("column"), section.Text("day_column"), section.Texts("as_planned_codes"),
            section.WholeNumber("planned_days"), section.Text("source"));
        section.Need("as_planned_codes", "List the codes of those who were followed to the end planned for them.");
        section.Close();
        return end;
    }

    private static Words? ReadWords(YamlSection top, string key)
    {
        if (top.Section(key) is not { } section)
            return null;
        Words words = new(section.Text("one"), section.Text("many"));
        section.Close();
        return words;
    }

    private static ImmutableArray<SiteDefinition> ReadSites(YamlSection top)
    {
        ImmutableArray<SiteDefinition>.Builder sites = ImmutableArray.CreateBuilder<SiteDefinition>();
        foreach (YamlSection section in top.Sections("sites"))
        {
            sites.Add(new SiteDefinition(section.Text("id"), section.Text("label")));
            section.Close();
        }
        return sites.ToImmutable();
    }

    private static ImmutableArray<VisitDefinition> ReadVisits(YamlSection top)
    {
        ImmutableArray<VisitDefinition>.Builder visits = ImmutableArray.CreateBuilder<VisitDefinition>();
        foreach (YamlSection section in top.Sections("visits"))
        {
            visits.Add(new VisitDefinition(
                section.Text("id"), section.Text("label"),
                section.WholeNumber("day"), section.WholeNumber("earliest"), section.WholeNumber("latest")));
            section.Close();
        }
        return visits.ToImmutable();
    }
}
