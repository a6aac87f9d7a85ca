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

    /// <summary>The same with a capital and a full stop.</summary>
    internal static string PeopleSentence(StudyFacts study, AnalysisCounts counts) => Sentence(People(study, counts)) + ".";

    /// <summary>With a capital.</summary>
    internal static string Sentence(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>A number with its interval: 0.74 (0.68 to 0.80).</summary>
    internal static string WithInterval(NumberWithInterval number, int decimals)
        => $"{NumberFormat.Fixed(number.Value, decimals)} ({NumberFormat.Fixed(number.Lower, decimals)} to {NumberFormat.Fixed(number.Upper, decimals)})";

    internal static string Points(StudyFacts study, int points)
        => study is { UnitOne: { } one, UnitMany: not null } ? $"Each point is a {one} ({NumberFormat.Count(points)})" : $"Each point is a row ({NumberFormat.Count(points)})";
}
