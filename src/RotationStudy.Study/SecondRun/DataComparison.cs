using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.SecondRun;

/// <summary>Compares two sets of checked records row by row: rows meet by their key, values as the protocol types them.</summary>
public static class DataComparison
{
    /// <summary>What changed.</summary>
    /// <param name="before">The earlier records.</param>
    /// <param name="after">The new records, read by the same protocol.</param>
    public static DataChanges Compare(CheckedRecords before, CheckedRecords after)
    {
        Dictionary<string, string> earlier = RecordKeys.Sites(before.Tables), now = RecordKeys.Sites(after.Tables);
        Tally tally = new(participant => now.GetValueOrDefault(participant) ?? earlier.GetValueOrDefault(participant) ?? string.Empty);
        foreach ((RecordTable old, RecordTable young) in before.Tables.Zip(after.Tables))
            tally.Add(old, young);
        return tally.Result(People(before), People(after));
    }

    /// <summary>Everybody whom the records name; the roster decides where there is one.</summary>
    private static HashSet<string> People(CheckedRecords records)
    {
        IEnumerable<RecordTable> named = records.Tables.Any(t => t.Definition.IsRoster) ? records.Tables.Where(t => t.Definition.IsRoster) : records.Tables;
        return [.. named.SelectMany(RecordKeys.Participants).Where(p => p.Length > 0)];
    }

    private sealed class Tally(Func<string, string> site)
    {
        private readonly Dictionary<(string Table, string Site), (int Added, int Removed, int Changed)> rows = [];
        private readonly Dictionary<(string Table, string Column, string Site), (int Changed, int FilledIn, int Emptied)> values = [];
        private readonly SortedDictionary<string, (int Added, int Removed, int Values)> people = new(StringComparer.Ordinal);
        private readonly HashSet<(string Participant, string Visit)> visitsBefore = [], visitsAfter = [];

        internal void Add(RecordTable before, RecordTable after)
        {
            string[] ownersBefore = RecordKeys.Participants(before), ownersAfter = RecordKeys.Participants(after);
            AddVisits(before, ownersBefore, visitsBefore);
            AddVisits(after, ownersAfter, visitsAfter);
            Dictionary<string, int> old = RecordKeys.Rows(before), young = RecordKeys.Rows(after);
            foreach ((string key, int row) in old)
            {
                if (young.TryGetValue(key, out int now))
                    AddShared(before, row, after, now, ownersBefore[row]);
                else
                    AddRow(before.Definition.Name, ownersBefore[row], 0, 1, 0, 0);
            }
            foreach (int row in young.Where(y => !old.ContainsKey(y.Key)).Select(y => y.Value))
                AddRow(after.Definition.Name, ownersAfter[row], 1, 0, 0, 0);
        }

        internal DataChanges Result(HashSet<string> before, HashSet<string> after)
        {
            foreach (string participant in before.Except(after).Concat(after.Except(before)))
                people.TryAdd(participant, (0, 0, 0));
            return new DataChanges(
                [.. people.Select(p => new ParticipantChange(
                    p.Key, site(p.Key),
                    (before.Contains(p.Key), after.Contains(p.Key)) switch
                    {
                        (false, true) => ParticipantChange.Added,
                        (true, false) => ParticipantChange.Removed,
                        _ => ParticipantChange.Changed,
                    },
                    p.Value.Added, p.Value.Removed, p.Value.Values))],
                Visits(),
                [.. rows.OrderBy(r => r.Key.Table, StringComparer.Ordinal).ThenBy(r => r.Key.Site, StringComparer.Ordinal)
                    .Select(r => new RowChange(r.Key.Table, r.Key.Site, r.Value.Added, r.Value.Removed, r.Value.Changed))],
                [.. values.OrderBy(v => v.Key.Table, StringComparer.Ordinal).ThenBy(v => v.Key.Column, StringComparer.Ordinal).ThenBy(v => v.Key.Site, StringComparer.Ordinal)
                    .Select(v => new ValueChange(v.Key.Table, v.Key.Column, v.Key.Site, v.Value.Changed, v.Value.FilledIn, v.Value.Emptied))]);
        }

        private void AddShared(RecordTable before, int row, RecordTable after, int now, string owner)
        {
            int changed = 0;
            for (int c = 0; c < before.Columns.Length; c++)
            {
                RecordColumn old = before.Columns[c], young = after.Columns[c];
                if (RecordKeys.Text(old, row) == RecordKeys.Text(young, now))
                    continue;
                changed++;
                (string, string, string) at = (before.Definition.Name, old.Definition.Name, site(owner));
                (int others, int filledIn, int emptied) = values.GetValueOrDefault(at);
                values[at] = (old.HasValue(row), young.HasValue(now)) switch
                {
                    (true, true) => (others + 1, filledIn, emptied),
                    (false, true) => (others, filledIn + 1, emptied),
                    _ => (others, filledIn, emptied + 1),
                };
            }
            if (changed > 0)
                AddRow(before.Definition.Name, owner, 0, 0, 1, changed);
        }

        private void AddRow(string table, string owner, int added, int removed, int changed, int cells)
        {
            (string, string) at = (table, site(owner));
            (int Added, int Removed, int Changed) sum = rows.GetValueOrDefault(at);
            rows[at] = (sum.Added + added, sum.Removed + removed, sum.Changed + changed);
            (int Added, int Removed, int Values) own = people.GetValueOrDefault(owner);
            people[owner] = (own.Added + added, own.Removed + removed, own.Values + cells);
        }

        private static void AddVisits(RecordTable table, string[] owners, HashSet<(string Participant, string Visit)> visits)
        {
            if (table.Definition.Column(ColumnRole.Visit) is not { } column)
                return;
            for (int row = 0; row < table.Rows; row++)
                visits.Add((owners[row], RecordKeys.Text(table[column.Name], row)));
        }

        private ImmutableArray<VisitChange> Visits()
        {
            IEnumerable<(string Site, string Visit, bool Added)> changes =
            [
                .. visitsAfter.Except(visitsBefore).Select(v => (site(v.Participant), v.Visit, true)),
                .. visitsBefore.Except(visitsAfter).Select(v => (site(v.Participant), v.Visit, false)),
            ];
            return
            [
                .. changes.GroupBy(c => (c.Site, c.Visit))
                    .OrderBy(g => g.Key.Site, StringComparer.Ordinal).ThenBy(g => g.Key.Visit, StringComparer.Ordinal)
                    .Select(g => new VisitChange(g.Key.Site, g.Key.Visit, g.Count(c => c.Added), g.Count(c => !c.Added))),
            ];
        }
    }
}
