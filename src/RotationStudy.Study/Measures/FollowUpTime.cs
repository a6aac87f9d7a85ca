using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Days from enrolment to the first of last contact and the first ending event of the unit.</summary>
internal static class FollowUpTime
{
    internal static MeasureColumn Derive(FollowUpMeasure measure, Derivation derivation)
    {
        LevelIndex level = derivation.LevelOf(measure);
        MeasureBuilder result = new(level, "no row in the roster");
        RecordTable roster = derivation.Records[measure.LastContactTable];
        NumberColumn lastContact = (NumberColumn)roster[measure.LastContactColumn];
        Dictionary<int, int> rosterRow = [];
        for (int row = 0; row < roster.Rows; row++)
            rosterRow.TryAdd(derivation.Index.KeysOfRows(roster)[row].Participant, row);
        List<double>[] endings = measure.Events is { } events ? UnitEvents.Days(events, level, derivation) : [];
        for (int row = 0; row < level.Rows; row++)
        {
            if (!rosterRow.TryGetValue(level.Keys[row].Participant, out int source))
                continue;
            if (!lastContact.HasValue(source))
            {
                result.SetMissing(row, $"last contact {lastContact.MissingReason(source)}");
                continue;
            }
            double end = lastContact.Values[source];
            if (endings.Length > 0 && endings[row] is [double ending, ..])
                end = Math.Min(end, ending);
            if (end > 0)
                result.Set(row, end);
            else
                result.SetMissing(row, "no follow-up after enrolment");
        }
        return result.Build(measure);
    }
}
