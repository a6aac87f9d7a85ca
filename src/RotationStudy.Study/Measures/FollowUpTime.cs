using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Days at risk: from enrolment, or a later day of entry, to the first of last contact and the first ending event of the unit.</summary>
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
            if (Entry(measure, level.Keys[row], derivation, out string? unknown) is not { } entry)
            {
                result.SetMissing(row, unknown!);
                continue;
            }
            double end = lastContact.Values[source];
            if (endings.Length > 0 && endings[row] is [double ending, ..])
                end = Math.Min(end, ending);
            if (end > entry)
                result.Set(row, end - entry);
            else
                result.SetMissing(row, entry > 0 ? "no follow-up after the day of entry" : "no follow-up after enrolment");
        }
        return result.Build(measure);
    }

    /// <summary>First and last day at risk of a row whose follow-up is known.</summary>
    internal static (double Entry, double End) Span(FollowUpMeasure measure, MeasureColumn followUp, int row, Derivation derivation)
    {
        double entry = Entry(measure, followUp.Index.Keys[row], derivation, out _) ?? 0;
        return (entry, entry + followUp.Values[row]);
    }

    private static double? Entry(FollowUpMeasure measure, RowKey key, Derivation derivation, out string? unknown)
    {
        unknown = null;
        if (measure.Entry is null)
            return 0;
        MeasureColumn entry = derivation.Done[measure.Entry];
        int row = entry.Index.Find(key);
        unknown = row < 0 ? "no day of entry" : entry.Reason(row);
        return unknown is null ? entry.Values[row] : null;
    }
}
