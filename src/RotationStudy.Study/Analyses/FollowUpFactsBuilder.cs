using System.Globalization;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>How follow-up ended, and its completeness: observed person-time over the person-time that could have been observed.</summary>
/// <remarks>
/// Exports hold days since enrolment and no date of closure, so what a person who left early could have given in all is not
/// known. The index is therefore taken over the days for which the design promised to follow everybody: potential time is
/// that span, or the time to a planned end where that came first; observed time is the time to the last contact within it.
/// Events of a unit end no one's follow-up as a participant.
/// <para>Source: Clark TG, Altman DG, De Stavola BL. Quantification of the completeness of follow-up. Lancet
/// 2002;359:1309-1310 (recalled, not re-read). The restriction to the planned span is ours.</para>
/// </remarks>
internal static class FollowUpFactsBuilder
{
    internal static FollowUpFacts? Build(StudyProtocol protocol, CheckedRecords records)
    {
        if (protocol.Study.FollowUpEnd is not { } end)
            return null;
        RecordTable table = records[end.Table];
        CodeColumn way = (CodeColumn)table[end.Column];
        NumberColumn last = (NumberColumn)table[end.DayColumn];
        double observed = 0, potential = 0;
        int[] counts = new int[way.Definition.Codes.Length];
        int unknown = 0;
        for (int row = 0; row < table.Rows; row++)
        {
            if (way.HasValue(row))
                counts[way.Indices[row]]++;
            if (!way.HasValue(row) || !last.HasValue(row))
            {
                unknown++;
                continue;
            }
            double seen = Math.Clamp(last.Values[row], 0, end.PlannedDays);
            bool asPlanned = end.AsPlannedCodes.Contains(way.Definition.Codes[way.Indices[row]].Code);
            observed += seen;
            potential += asPlanned ? seen : end.PlannedDays;
        }
        double completeness = potential > 0 ? observed / potential : 0;
        return new FollowUpFacts(
            [.. way.Definition.Codes.Select((c, i) => new ReasonCount(c.Meaning, 0, counts[i])).Where(r => r.Participants > 0).OrderByDescending(r => r.Participants)],
            end.PlannedDays, observed, potential, completeness, Sentence(end, observed, potential, completeness, unknown, protocol.Study.ParticipantWords));
    }

    private static string Sentence(FollowUpEnd end, double observed, double potential, double completeness, int unknown, Words people)
    {
        const double daysPerYear = 365.25;
        string left = unknown == 0 ? string.Empty : $" {people.Count(unknown)} without a day or a way of ending are not in it.";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Completeness of follow-up over the first {end.PlannedDays} days, for which everybody was to be followed: {100 * completeness:0.0} % ({observed / daysPerYear:0.0} of {potential / daysPerYear:0.0} person-years; index of Clark, Altman and De Stavola 2002).{left}");
    }
}
