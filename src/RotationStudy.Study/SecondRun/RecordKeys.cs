using System.Globalization;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.SecondRun;

/// <summary>Names of rows in checked records: whom a row belongs to, its key, its values as text.</summary>
internal static class RecordKeys
{
    private const char Between = '\u001F';

    /// <summary>The participant of each row; empty where a table names nobody.</summary>
    internal static string[] Participants(RecordTable table)
    {
        RecordColumn? column = table.Definition.Column(ColumnRole.Participant) is { } c ? table[c.Name] : null;
        return [.. Enumerable.Range(0, table.Rows).Select(row => column is null ? string.Empty : Text(column, row))];
    }

    /// <summary>Rows by their key. A table of rows without a key has numbered ones.</summary>
    internal static Dictionary<string, int> Rows(RecordTable table)
    {
        RecordColumn[] key = [.. table.Definition.Key.Select(k => table[k])];
        Dictionary<string, int> rows = new(table.Rows, StringComparer.Ordinal);
        for (int row = 0; row < table.Rows; row++)
        {
            int here = row;
            string name = string.Join(Between, key.Select(k => Text(k, here)));
            for (int repeat = 2; !rows.TryAdd(name, row); repeat++)
                name = string.Join(Between, key.Select(k => Text(k, here)).Append(repeat.ToString(CultureInfo.InvariantCulture)));
        }
        return rows;
    }

    /// <summary>Sites by participant, from the roster.</summary>
    internal static Dictionary<string, string> Sites(IEnumerable<RecordTable> tables)
    {
        Dictionary<string, string> sites = new(StringComparer.Ordinal);
        foreach (RecordTable roster in tables.Where(t => t.Definition.IsRoster))
        {
            if (roster.Definition.Column(ColumnRole.Site) is not { } site)
                continue;
            string[] people = Participants(roster);
            for (int row = 0; row < roster.Rows; row++)
                sites.TryAdd(people[row], Text(roster[site.Name], row));
        }
        return sites;
    }

    /// <summary>A cell as text; a missing one is its reason in brackets, which no value can be.</summary>
    internal static string Text(RecordColumn column, int row) => column.MissingReason(row) is { } reason
        ? $"({reason})"
        : column switch
        {
            IdentifierColumn identifier => identifier.Values[row],
            CodeColumn code => code.Definition.Codes[code.Indices[row]].Code,
            NumberColumn number => number.Values[row].ToString("R", CultureInfo.InvariantCulture),
            _ => string.Empty,
        };
}
