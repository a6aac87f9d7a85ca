using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Readings as they were taken, by rater and session, not reduced: what a question of agreement needs.</summary>
/// <param name="Label">Label of the column.</param>
/// <param name="Unit">Unit of the readings.</param>
/// <param name="Raters">Raters, in ordinal order; one of no name where the table names none.</param>
/// <param name="Sessions">Sessions that occur, in order; one of no name where the table has none.</param>
/// <param name="Rows">The readings, in key order.</param>
public sealed record ReadingSet(
    string Label, string? Unit, ImmutableArray<string> Raters, ImmutableArray<string> Sessions, ImmutableArray<ReadingRow> Rows)
{
    internal static ReadingSet Read(ReadingColumn source, Derivation derivation)
    {
        RecordTable table = derivation.Records[source.Table];
        NumberColumn value = (NumberColumn)table[source.Column];
        RecordColumn? rater = table.Definition.Column(ColumnRole.Rater) is { } column ? table[column.Name] : null;
        ImmutableArray<RowKey> keys = derivation.Index.KeysOfRows(table);
        int[] rows = [.. Enumerable.Range(0, table.Rows).Where(r => value.HasValue(r) && keys[r].Participant >= 0)];
        ImmutableArray<string> raters = [.. rows.Select(r => Text(rater, r)).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        ImmutableArray<int> occasions = [.. rows.Select(r => keys[r].Occasion).Distinct().Order()];
        return new ReadingSet(
            value.Definition.Label, value.Definition.Unit, raters,
            [.. occasions.Select(o => o < 0 ? string.Empty : SessionLabel(o, derivation))],
            [.. rows.Select(r => new ReadingRow(keys[r].Participant, keys[r].Side, occasions.IndexOf(keys[r].Occasion), raters.IndexOf(Text(rater, r)), value.Values[r]))
                .OrderBy(r => (r.Participant, r.Side, r.Session, r.Rater))]);
    }

    private static string SessionLabel(int occasion, Derivation derivation)
    {
        string id = derivation.Index.Keys.Occasions[occasion];
        return derivation.Protocol.Study.Visits.FirstOrDefault(v => v.Id == id)?.Label ?? id;
    }

    private static string Text(RecordColumn? column, int row) => column switch
    {
        IdentifierColumn identifier => identifier.Values[row],
        CodeColumn code => code.Definition.Codes[code.Indices[row]].Meaning,
        NumberColumn number => number.Values[row].ToString(CultureInfo.InvariantCulture),
        _ => string.Empty,
    };
}

/// <summary>One reading.</summary>
/// <param name="Participant">Position in the list of participants.</param>
/// <param name="Side">Position in the list of sides; -1 for none.</param>
/// <param name="Session">Position in the list of sessions.</param>
/// <param name="Rater">Position in the list of raters.</param>
/// <param name="Value">The reading.</param>
public readonly record struct ReadingRow(int Participant, int Side, int Session, int Rater, double Value);
