using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Pictures;

/// <summary>Last digits of the readings of a column, by rater where the table names raters.</summary>
/// <remarks>Readings are counted as they were taken, whatever the measure makes of them; one with decimals is rounded to its unit.</remarks>
internal static class LastDigits
{
    private const int Digits = 10;

    internal static IEnumerable<DigitCounts> Build(FigureDefinition figure, StudyProtocol protocol, CheckedRecords records)
    {
        foreach (string id in figure.Measures)
        {
            ValueMeasure measure = (ValueMeasure)protocol.Measure(id);
            RecordTable table = records.Tables.First(t => t.Definition.Name == measure.Table);
            NumberColumn column = (NumberColumn)table[measure.Column];
            RecordColumn? rater = table.Definition.Column(ColumnRole.Rater) is { } by ? table[by.Name] : null;
            SortedDictionary<string, int[]> counts = new(StringComparer.Ordinal);
            for (int row = 0; row < table.Rows; row++)
            {
                if (!column.HasValue(row))
                    continue;
                string who = rater is not null && rater.HasValue(row) ? Name(rater, row) : "all";
                if (!counts.TryGetValue(who, out int[]? own))
                    counts[who] = own = new int[Digits];
                own[(int)(Math.Abs(Math.Round(column.Values[row], MidpointRounding.AwayFromZero)) % Digits)]++;
            }
            yield return new DigitCounts(figure.Id, column.Definition.Unit is { } unit ? $"{column.Definition.Label} ({unit})" : column.Definition.Label, [.. counts.Select(c => new RaterDigits(c.Key, [.. c.Value]))]);
        }
    }

    private static string Name(RecordColumn rater, int row) => rater switch
    {
        CodeColumn code => code.Definition.Codes[code.Indices[row]].Meaning,
        IdentifierColumn identifier => identifier.Values[row],
        _ => "all",
    };
}
