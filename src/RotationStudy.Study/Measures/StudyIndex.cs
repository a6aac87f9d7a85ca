using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Finds the participants, sides and occasions of a study and the rows of each level.</summary>
internal sealed class StudyIndex
{
    private readonly Dictionary<string, int> participantOf = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> sideOf = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> occasionOf = new(StringComparer.Ordinal);
    private readonly Dictionary<string, ImmutableArray<RowKey>> keysOfTable = [];
    private readonly WeekSpans weeks;

    internal StudyIndex(CheckedRecords records, StudyProtocol protocol)
    {
        ImmutableArray<string> occasions = Occasions(records);
        weeks = WeekSpans.Read(records, protocol, occasions.Length);
        Keys = new StudyKeys(Participants(records), Sides(records), [.. occasions, .. weeks.Labels]);
        Number(Keys.Participants, participantOf);
        Number(Keys.Sides, sideOf);
        Number(Keys.Occasions, occasionOf);
        foreach (RecordTable table in records.Tables)
            keysOfTable.Add(table.Definition.Name, KeysOf(table));
        Levels = BuildLevels(records);
    }

    internal StudyKeys Keys { get; }

    /// <summary>The position of a week in the list of occasions, or -1 when no diary reaches it.</summary>
    internal int WeekPosition(int week) => weeks.Position(week);

    /// <summary>The week at a position in the list of occasions.</summary>
    internal int WeekAt(int position) => weeks.WeekAt(position);

    internal ImmutableDictionary<RowLevel, LevelIndex> Levels { get; }

    /// <summary>The key of each row of a table; parts that the table lacks are -1.</summary>
    internal ImmutableArray<RowKey> KeysOfRows(RecordTable table) => keysOfTable[table.Definition.Name];

    /// <summary>The position of a visit in the list of occasions, or -1 when no row names it.</summary>
    internal int Occasion(string label) => occasionOf.GetValueOrDefault(label, -1);

    private static ImmutableArray<string> Participants(CheckedRecords records)
    {
        // The roster says who takes part; without one, everybody whom a table names does.
        IEnumerable<RecordTable> tables = records.Tables.Any(t => t.Definition.IsRoster)
            ? records.Tables.Where(t => t.Definition.IsRoster)
            : records.Tables;
        SortedSet<string> ids = new(StringComparer.Ordinal);
        foreach (RecordTable table in tables)
        {
            if (table.Definition.Column(ColumnRole.Participant) is not { } column)
                continue;
            for (int row = 0; row < table.Rows; row++)
                ids.Add(KeyText(table[column.Name], row));
        }
        return [.. ids];
    }

    private static ImmutableArray<string> Sides(CheckedRecords records)
        => records.Tables.Select(t => t.Definition.Column(ColumnRole.Side)).FirstOrDefault(c => c is not null) is { } side
            ? [.. side.Codes.Select(c => c.Code)]
            : [];

    private static ImmutableArray<string> Occasions(CheckedRecords records)
    {
        HashSet<string> seen = new(StringComparer.Ordinal);
        List<(double Order, string Label)> found = [];
        foreach (RecordTable table in records.Tables)
        {
            if (OccasionColumn(table.Definition) is not { } column)
                continue;
            RecordColumn values = table[column.Name];
            for (int row = 0; row < table.Rows; row++)
            {
                string label = KeyText(values, row);
                if (seen.Add(label))
                    found.Add((Order(values, row), label));
            }
        }
        return [.. found.OrderBy(f => f.Order).ThenBy(f => f.Label, StringComparer.Ordinal).Select(f => f.Label)];
    }

    private static double Order(RecordColumn column, int row) => column switch
    {
        NumberColumn number => number.Values[row],
        CodeColumn code => code.Indices[row],
        _ => 0,
    };

    private static ColumnDefinition? OccasionColumn(TableDefinition table)
        => table.Column(ColumnRole.Visit) ?? (HasRunningRows(table) ? table.Column(ColumnRole.Sequence) : null);

    /// <summary>Whether rows are running numbers of a participant. A log that names no participant has no rows of any level.</summary>
    private static bool HasRunningRows(TableDefinition table)
        => table.Column(ColumnRole.Participant) is not null && table.Column(ColumnRole.Visit) is null
            && table.Column(ColumnRole.Side) is null && table.Column(ColumnRole.Sequence) is not null;

    private static string KeyText(RecordColumn column, int row) => column switch
    {
        IdentifierColumn identifier => identifier.Values[row],
        CodeColumn code => code.Definition.Codes[code.Indices[row]].Code,
        NumberColumn number => number.Values[row].ToString(CultureInfo.InvariantCulture),
        _ => string.Empty,
    };

    private static void Number(ImmutableArray<string> labels, Dictionary<string, int> positions)
    {
        for (int i = 0; i < labels.Length; i++)
            positions.Add(labels[i], i);
    }

    private ImmutableArray<RowKey> KeysOf(RecordTable table)
    {
        TableDefinition definition = table.Definition;
        RecordColumn? participant = definition.Column(ColumnRole.Participant) is { } p ? table[p.Name] : null;
        RecordColumn? side = definition.Column(ColumnRole.Side) is { } s ? table[s.Name] : null;
        RecordColumn? occasion = OccasionColumn(definition) is { } o ? table[o.Name] : null;
        ImmutableArray<RowKey>.Builder keys = ImmutableArray.CreateBuilder<RowKey>(table.Rows);
        for (int row = 0; row < table.Rows; row++)
        {
            keys.Add(new RowKey(
                participant is null ? -1 : participantOf.GetValueOrDefault(KeyText(participant, row), -1),
                side is null ? -1 : sideOf.GetValueOrDefault(KeyText(side, row), -1),
                occasion is null ? -1 : occasionOf.GetValueOrDefault(KeyText(occasion, row), -1)));
        }
        return keys.MoveToImmutable();
    }

    private ImmutableDictionary<RowLevel, LevelIndex> BuildLevels(CheckedRecords records)
    {
        Dictionary<RowLevel, LevelIndex> levels = [];
        IEnumerable<int> people = Enumerable.Range(0, Keys.Participants.Length);
        levels.Add(RowLevel.Participant, new LevelIndex(RowLevel.Participant, [.. people.Select(p => new RowKey(p, -1, -1))]));
        if (Keys.Sides.Length > 0)
        {
            // Both sides are under observation from enrolment on, whether or not a table mentions them.
            levels.Add(RowLevel.Unit, new LevelIndex(
                RowLevel.Unit,
                [.. people.SelectMany(p => Enumerable.Range(0, Keys.Sides.Length).Select(s => new RowKey(p, s, -1)))]));
        }
        AddOccasions(records, levels, RowLevel.Visit, t => t.Column(ColumnRole.Visit) is not null && t.Column(ColumnRole.Side) is null);
        AddOccasions(records, levels, RowLevel.UnitVisit, t => t.Column(ColumnRole.Visit) is not null && t.Column(ColumnRole.Side) is not null);
        AddOccasions(records, levels, RowLevel.Sequence, HasRunningRows);
        if (weeks.HasDiary)
            levels.Add(RowLevel.Week, new LevelIndex(RowLevel.Week, weeks.Rows(id => participantOf.GetValueOrDefault(id, -1))));
        return levels.ToImmutableDictionary();
    }

    private void AddOccasions(CheckedRecords records, Dictionary<RowLevel, LevelIndex> levels, RowLevel level, Func<TableDefinition, bool> belongs)
    {
        HashSet<RowKey> keys = [];
        foreach (RecordTable table in records.Tables.Where(t => belongs(t.Definition)))
            keys.UnionWith(KeysOfRows(table).Where(k => k.Participant >= 0));
        if (records.Tables.Any(t => belongs(t.Definition)))
            levels.Add(level, new LevelIndex(level, [.. keys.OrderBy(k => k.Participant).ThenBy(k => k.Side).ThenBy(k => k.Occasion)]));
    }
}
