using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Counts in words, the same in every caption and alternative text.</summary>
internal static class FigureWords
{
    /// <summary>498 knees of 251 participants, 87 events.</summary>
    internal static string People(StudyFacts study, AnalysisCounts counts)
    {
        string people = new SmallCounts(study.SmallestPrintedCount).Words(counts.Participants, study.ParticipantOne, study.ParticipantMany);
        string units = counts.Units > 0 && study.UnitOne is { } one && study.UnitMany is { } many ? $"{NumberFormat.Count(counts.Units, one, many)} of " : "";
        string events = counts.Events > 0 ? $", {NumberFormat.Count(counts.Events, "event", "events")}" : "";
        string time = counts is { TimeAtRisk: > 0, TimeUnit: { } unit } ? $", {NumberFormat.Fixed(counts.TimeAtRisk, 0)} {unit} at risk" : "";
        return units + people + events + time;
    }

    internal static string Points(StudyFacts study, int points)
        => study is { UnitOne: { } one, UnitMany: not null } ? $"Each point is a {one} ({NumberFormat.Count(points)})" : $"Each point is a row ({NumberFormat.Count(points)})";
}
