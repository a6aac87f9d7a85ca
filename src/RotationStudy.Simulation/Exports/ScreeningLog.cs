using System.Globalization;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Exports;

/// <summary>The log of everybody who was screened: one row each, with what became of it and why.</summary>
/// <remarks>
/// It leads to nobody: it holds no identifier of a participant, and its rows are shuffled before they are numbered, so that
/// neither number nor order says who is who. What agrees with the roster is the number enrolled at each site.
/// </remarks>
internal static class ScreeningLog
{
    internal const string FileName = "screening.csv";

    internal static byte[] Write(SimulatedCohort cohort, CohortCounts counts)
    {
        ScreeningScenario screening = cohort.Scenario.Screening;
        RandomDraws draws = NamedStreams.Shared(cohort.Seed).Open("screening");
        double[] shares = [.. screening.Reasons.Select(r => r.Share)];
        List<(string Site, string? Reason)> rows = [];
        foreach ((string site, int enrolled) in counts.EnrolledBySite)
        {
            rows.AddRange(Enumerable.Repeat((site, (string?)null), enrolled));
            int others = (int)Math.Round(enrolled * screening.NotEnrolledPerParticipant);
            for (int i = 0; i < others; i++)
                rows.Add((site, screening.Reasons[draws.Pick(shares)].Reason));
        }
        Shuffle(rows, draws);
        return Text(rows).ToBytes();
    }

    private static CsvText Text(List<(string Site, string? Reason)> rows)
    {
        CsvText csv = CsvText.WithHeader("screening_id", "screening_site", "outcome", "reason");
        string format = "D" + Math.Max(4, rows.Count.ToString(CultureInfo.InvariantCulture).Length).ToString(CultureInfo.InvariantCulture);
        for (int i = 0; i < rows.Count; i++)
        {
            csv.Cell("S" + (i + 1).ToString(format, CultureInfo.InvariantCulture)).Cell(rows[i].Site)
                .Cell(rows[i].Reason is null ? "enrolled" : "not_enrolled").Cell(rows[i].Reason ?? "NA").EndLine();
        }
        return csv;
    }

    private static void Shuffle(List<(string Site, string? Reason)> rows, RandomDraws draws)
    {
        for (int i = rows.Count - 1; i > 0; i--)
        {
            int j = (int)(draws.Uniform() * (i + 1));
            (rows[i], rows[j]) = (rows[j], rows[i]);
        }
    }
}
