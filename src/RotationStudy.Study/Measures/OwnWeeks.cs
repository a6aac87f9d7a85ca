using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>A participant's week against the own other weeks: the week before, the mean of all, the distance from that mean.</summary>
internal static class OwnWeeks
{
    internal static MeasureColumn Derive(OwnWeeksMeasure measure, Derivation derivation) => measure.Value switch
    {
        OwnWeeksValue.WeekBefore => WeekBefore(measure, derivation),
        OwnWeeksValue.PersonMean => PersonMean(measure, derivation),
        _ => WithinPerson(measure, derivation),
    };

    private static MeasureColumn WeekBefore(OwnWeeksMeasure measure, Derivation derivation)
    {
        MeasureColumn of = derivation.Done[measure.Of];
        MeasureBuilder result = new(of.Index, "no week before");
        for (int row = 0; row < of.Index.Rows; row++)
        {
            RowKey key = of.Index.Keys[row];
            int position = derivation.Index.WeekPosition(derivation.Index.WeekAt(key.Occasion) - 1);
            int before = position < 0 ? -1 : of.Index.Find(key with { Occasion = position });
            if (before >= 0 && of.HasValue(before))
                result.Set(row, of.Values[before]);
            else if (before >= 0)
                result.SetMissing(row, $"week before: {of.Reason(before)}");
        }
        return result.Build(measure);
    }

    private static MeasureColumn PersonMean(OwnWeeksMeasure measure, Derivation derivation)
    {
        LevelIndex people = derivation.Index.Levels[RowLevel.Participant];
        MeasureBuilder result = new(people, "no week with a value");
        foreach ((int participant, double mean) in Means(derivation.Done[measure.Of]))
            result.Set(people.Find(new RowKey(participant, -1, -1)), mean);
        return result.Build(measure);
    }

    private static MeasureColumn WithinPerson(OwnWeeksMeasure measure, Derivation derivation)
    {
        MeasureColumn of = derivation.Done[measure.Of];
        Dictionary<int, double> means = Means(of);
        MeasureBuilder result = new(of.Index, "no row");
        for (int row = 0; row < of.Index.Rows; row++)
        {
            if (of.Reason(row) is { } reason)
                result.SetMissing(row, reason);
            else
                result.Set(row, of.Values[row] - means[of.Index.Keys[row].Participant]);
        }
        return result.Build(measure);
    }

    private static Dictionary<int, double> Means(MeasureColumn of)
    {
        Dictionary<int, (double Sum, int Weeks)> sums = [];
        for (int row = 0; row < of.Index.Rows; row++)
        {
            if (!of.HasValue(row))
                continue;
            (double sum, int weeks) = sums.GetValueOrDefault(of.Index.Keys[row].Participant);
            sums[of.Index.Keys[row].Participant] = (sum + of.Values[row], weeks + 1);
        }
        return sums.ToDictionary(s => s.Key, s => s.Value.Sum / s.Value.Weeks);
    }
}
