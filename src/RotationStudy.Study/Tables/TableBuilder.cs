using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Tables;

/// <summary>Joins measures into the table of a question. Every row of the population is in the table or left out for a reason.</summary>
public static class TableBuilder
{
    /// <summary>Builds the complete-case table of some measures.</summary>
    /// <param name="measures">All measures of the study.</param>
    /// <param name="level">What a row is.</param>
    /// <param name="needed">Measures that every row must have, in the order in which a gap is blamed.</param>
    /// <param name="keep">Rows of the population; null for all.</param>
    public static AnalysisTable Build(DerivedMeasures measures, RowLevel level, IReadOnlyList<string> needed, RowFilter? keep)
    {
        LevelIndex index = measures.Levels[level];
        MeasureColumn[] columns = [.. needed.Distinct(StringComparer.Ordinal).Select(id => measures[id])];
        PopulationFilter population = new(keep, measures);
        List<int> rows = [];
        List<int>[] sources = [.. columns.Select(_ => new List<int>())];
        LeftOutTally leftOut = new();
        List<(RowKey Key, string Reason)> leftOutRows = [];
        int[] found = new int[columns.Length];
        int size = 0;
        for (int row = 0; row < index.Rows; row++)
        {
            RowKey key = index.Keys[row];
            if (!population.Holds(key))
                continue;
            size++;
            if (FirstGap(columns, key, found) is { } gap)
            {
                leftOut.Add(gap, key.Participant);
                leftOutRows.Add((key, gap));
                continue;
            }
            rows.Add(row);
            for (int c = 0; c < columns.Length; c++)
                sources[c].Add(found[c]);
        }
        return new AnalysisTable(
            level,
            [.. rows.Select(r => index.Keys[r])],
            measures.Keys,
            [.. columns.Select((c, i) => new TableColumn(c, [.. sources[i].Select(s => c.Values[s])]))],
            leftOut.Counts(),
            size)
        { LeftOutRows = [.. leftOutRows] };
    }

    private static string? FirstGap(MeasureColumn[] columns, RowKey key, int[] found)
    {
        for (int c = 0; c < columns.Length; c++)
        {
            found[c] = columns[c].Index.Find(key);
            if (found[c] < 0)
                return $"{columns[c].Definition.Label}: no row";
            if (columns[c].Reason(found[c]) is { } reason)
                return $"{columns[c].Definition.Label}: {reason}";
        }
        return null;
    }

    /// <summary>Counts rows and participants by reason, in order of first appearance of the reason's name.</summary>
    private sealed class LeftOutTally
    {
        private readonly SortedDictionary<string, (int Rows, HashSet<int> Participants)> counts = new(StringComparer.Ordinal);

        internal void Add(string reason, int participant)
        {
            (int rows, HashSet<int> participants) = counts.GetValueOrDefault(reason, (0, []));
            participants.Add(participant);
            counts[reason] = (rows + 1, participants);
        }

        internal ImmutableArray<ReasonCount> Counts()
            => [.. counts.OrderByDescending(c => c.Value.Rows).Select(c => new ReasonCount(c.Key, c.Value.Rows, c.Value.Participants.Count))];
    }
}
