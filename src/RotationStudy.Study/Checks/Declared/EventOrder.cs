using System.Globalization;
using System.Runtime.InteropServices;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>Something that is dated before what it follows.</summary>
internal static class EventOrder
{
    internal static void Apply(EventOrderCheck check, TableDraft table, CheckedRows rows, RowReport report)
    {
        if (rows.Table(check.Earlier) is not { } earlier)
            return;
        bool byVisit = check.Match.Contains(ColumnRole.Visit);
        bool bySide = check.Match.Contains(ColumnRole.Side);
        Dictionary<long, double> firstDay = FirstDays(check, earlier, rows.Links(earlier, byVisit, bySide));
        CodeFilter when = new(table, check.When);
        DraftColumn day = table.Column(ColumnRole.Day)!;
        long[] links = rows.Links(table, byVisit, bySide);
        foreach (int row in table.Order)
        {
            if (links[row] < 0 || !day[row].HasValue || !when.Holds(row))
                continue;
            bool known = firstDay.TryGetValue(links[row], out double first);
            if (known && day[row].Number < first)
            {
                report.Add(
                    row, day, string.Create(CultureInfo.InvariantCulture, $"day {first} or later"),
                    string.Create(CultureInfo.InvariantCulture, $"Day {day[row].Number} lies before day {first} of {Words(check)}."));
            }
            else if (!known && check.Required)
            {
                report.Add(row, day, $"{Words(check)} before it", $"There is no {Words(check)} that it could follow.");
            }
        }
    }

    private static Dictionary<long, double> FirstDays(EventOrderCheck check, TableDraft earlier, long[] links)
    {
        DraftColumn day = earlier.Column(ColumnRole.Day)!;
        CodeFilter when = new(earlier, check.EarlierWhen);
        Dictionary<long, double> first = [];
        foreach (int row in earlier.Order)
        {
            if (links[row] < 0 || !day[row].HasValue || !when.Holds(row))
                continue;
            ref double least = ref CollectionsMarshal.GetValueRefOrAddDefault(first, links[row], out bool known);
            least = known ? Math.Min(least, day[row].Number) : day[row].Number;
        }
        return first;
    }

    private static string Words(EventOrderCheck check)
        => check.EarlierWhen is { } when ? $"'{string.Join("' or '", when.Codes)}' in {check.Earlier}" : $"row of {check.Earlier}";
}
