using System.Collections.Immutable;
using RotationStudy.Study.Measures;

namespace RotationStudy.Study.Analyses.Agreement;

/// <summary>Readings as complete tables of subjects, and as pairs.</summary>
internal sealed class ReadingTables
{
    private readonly ReadingSet readings;
    private readonly Dictionary<(int Participant, int Side, int Session, int Rater), double> cells = [];
    private readonly (int Participant, int Side)[] units;
    private readonly int[] sides;

    internal ReadingTables(ReadingSet readings, StudyKeys keys)
    {
        this.readings = readings;
        foreach (ReadingRow row in readings.Rows)
            cells.TryAdd((row.Participant, row.Side, row.Session, row.Rater), row.Value);
        units = [.. readings.Rows.Select(r => (r.Participant, r.Side)).Distinct()];
        sides = [.. units.Select(u => u.Side).Distinct().Order()];
        Sides = [.. sides.Select(s => s < 0 ? string.Empty : SideLabel(keys.Sides[s]))];
    }

    internal ImmutableArray<string> Sides { get; }

    internal ImmutableArray<string> Raters => readings.Raters;

    internal int Sessions => readings.Sessions.Length;

    internal string RaterLabel(int rater) => readings.Raters[rater].Length == 0 ? "readings" : readings.Raters[rater];

    internal string SessionLabel(int session) => readings.Sessions[session];

    /// <summary>One column per rater, first session.</summary>
    internal CompleteTable ByRater(int side, HashSet<int>? people)
        => Complete(side, people, [.. Enumerable.Range(0, Raters.Length).Select(r => (0, r))]);

    /// <summary>Readings of a side at the first session, by whichever rater.</summary>
    internal IReadOnlyList<ReadingRow> FirstSession(int side, HashSet<int>? people)
        => [.. readings.Rows.Where(r => r.Session == 0 && r.Side == sides[side] && (people is null || people.Contains(r.Participant)))];

    /// <summary>One column for each of the first two sessions of a rater.</summary>
    internal CompleteTable BySession(int side, int rater) => Complete(side, null, [(0, rater), (1, rater)]);

    /// <summary>Pairs of two raters at the first session.</summary>
    internal List<ReadingPair> Pairs(int first, int second) => Pairs((0, first), (0, second));

    /// <summary>Pairs of the first two sessions of a rater.</summary>
    internal List<ReadingPair> SessionPairs(int rater) => Pairs((0, rater), (1, rater));

    /// <summary>Pairs of a rater's first session with a measure.</summary>
    internal List<ReadingPair> PairsWith(MeasureColumn measure, int rater, HashSet<int>? people)
    {
        List<ReadingPair> pairs = [];
        foreach ((int participant, int side) in units)
        {
            if (people is not null && !people.Contains(participant))
                continue;
            int row = measure.Index.Find(new RowKey(participant, side, -1));
            if (cells.TryGetValue((participant, side, 0, rater), out double value) && row >= 0 && measure.HasValue(row))
                pairs.Add(new ReadingPair(participant, value, measure.Values[row]));
        }
        return pairs;
    }

    private List<ReadingPair> Pairs((int Session, int Rater) a, (int Session, int Rater) b)
    {
        List<ReadingPair> pairs = [];
        foreach ((int participant, int side) in units)
        {
            if (cells.TryGetValue((participant, side, a.Session, a.Rater), out double first) && cells.TryGetValue((participant, side, b.Session, b.Rater), out double second))
                pairs.Add(new ReadingPair(participant, first, second));
        }
        return pairs;
    }

    private CompleteTable Complete(int side, HashSet<int>? people, (int Session, int Rater)[] columns)
    {
        List<double>[] values = [.. columns.Select(_ => new List<double>())];
        int incomplete = 0;
        foreach ((int participant, int ownSide) in units)
        {
            if (ownSide != sides[side] || (people is not null && !people.Contains(participant)))
                continue;
            double?[] row = [.. columns.Select(c => cells.TryGetValue((participant, ownSide, c.Session, c.Rater), out double v) ? v : (double?)null)];
            if (Array.Exists(row, v => v is null))
            {
                incomplete++;
                continue;
            }
            for (int c = 0; c < row.Length; c++)
                values[c].Add(row[c]!.Value);
        }
        return new CompleteTable([.. values.Select(v => (IReadOnlyList<double>)v)], incomplete);
    }

    private static string SideLabel(string code) => code switch { "L" => "left", "R" => "right", _ => code };
}

/// <summary>Ratings of subjects who have them all: one list per rater or session.</summary>
/// <param name="Columns">One list per rater or session, subjects in one order.</param>
/// <param name="Incomplete">Subjects left out.</param>
internal sealed record CompleteTable(ImmutableArray<IReadOnlyList<double>> Columns, int Incomplete)
{
    internal int Subjects => Columns[0].Count;
}

/// <summary>Two readings of one side of a participant.</summary>
internal readonly record struct ReadingPair(int Participant, double First, double Second);
