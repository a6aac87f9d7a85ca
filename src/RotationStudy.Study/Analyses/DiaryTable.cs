using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Diaries as weeks: who kept one, how many weeks count, and how many hold more than one change at a time.</summary>
internal static class DiaryTable
{
    internal static ResultTable? Build(DerivedMeasures measures)
    {
        MeasureColumn[] weekly = [.. measures.Columns.Where(c => c.Definition is WeeklyMeasure && c.Index.Rows > 0)];
        if (weekly.Length == 0)
            return null;
        IEnumerable<string> notes = measures.Columns.Where(c => c.Definition is WeeklyChangesMeasure).Select(Changes);
        return new ResultTable(
            "diary-weeks", "Diaries: weeks that count",
            ["Measure", "Participants", "Weeks from first to last entry", "Weeks that count", "Mean of weeks", "Too few days", "No entry", "Unit"],
            [.. weekly.Select(w => new TableRow(Cells(w), 0))],
            ["A week counts when it has the fewest days that the protocol asks for, worn as long as it asks for.", .. notes]);
    }

    private static ImmutableArray<TableCell> Cells(MeasureColumn week)
    {
        int[] rows = [.. Enumerable.Range(0, week.Index.Rows)];
        int[] counted = [.. rows.Where(week.HasValue)];
        int people = week.Index.Keys.Select(k => k.Participant).Distinct().Count();
        int tooFew = rows.Count(r => week.Reason(r)?.StartsWith("fewer", StringComparison.Ordinal) == true);
        string mean = counted.Length == 0 ? "none" : counted.Average(r => week.Values[r]).ToString("0.0", CultureInfo.InvariantCulture);
        return
        [
            new(week.Definition.Label, null), Count(people), Count(rows.Length), Count(counted.Length), new(mean, null),
            Count(tooFew), Count(rows.Length - counted.Length - tooFew), new(week.Definition.Unit ?? string.Empty, null),
        ];
    }

    private static string Changes(MeasureColumn changes)
    {
        int[] counts = new int[3];
        for (int row = 0; row < changes.Index.Rows; row++)
        {
            if (changes.HasValue(row))
                counts[Math.Min(2, (int)changes.Values[row])]++;
        }
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{changes.Definition.Label}: none in {counts[0]} weeks, one in {counts[1]}, several at a time in {counts[2]}; after several, a rise of pain cannot be laid to one of them.");
    }

    private static TableCell Count(int count) => new(count.ToString(CultureInfo.InvariantCulture), count);
}
