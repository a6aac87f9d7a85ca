using RotationStudy.Study.Checks.Across;
using RotationStudy.Study.Checks.Rows;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>Looks rows of an export up by participant, visit and side, with numbers instead of texts.</summary>
internal sealed class CheckedRows
{
    private const long Sides = 3;

    private readonly ExportDraft export;
    private readonly Dictionary<string, int> participants = new(StringComparer.Ordinal);
    private readonly Dictionary<TableDraft, int[]> numberOfText = [];
    private Dictionary<long, double>? dayOfVisit;

    internal CheckedRows(ExportDraft export, FindingList findings)
    {
        this.export = export;
        Findings = findings;
    }

    internal FindingList Findings { get; }

    internal TableDraft? Roster => export.Roster;

    internal TableDraft? Table(string name) => export.Tables.FirstOrDefault(t => t.Definition.Name == name);

    /// <summary>Number of the participant of each text of the table's column of participants.</summary>
    internal int[] ParticipantOfText(TableDraft table)
    {
        if (numberOfText.TryGetValue(table, out int[]? known))
            return known;
        DraftColumn column = table.Column(ColumnRole.Participant)!;
        int[] numbers = new int[column.Texts];
        for (int text = 0; text < numbers.Length; text++)
        {
            string id = column.VerdictOfText(text).Identifier;
            if (!participants.TryGetValue(id, out int number))
                participants.Add(id, number = participants.Count);
            numbers[text] = number;
        }
        numberOfText.Add(table, numbers);
        return numbers;
    }

    /// <summary>A number for the participant, and the visit and side where asked for, the same in every table; -1 where a part is missing.</summary>
    internal long[] Links(TableDraft table, bool byVisit, bool bySide, bool otherSide = false)
    {
        int[] who = ParticipantOfText(table);
        DraftColumn participant = table.Column(ColumnRole.Participant)!;
        DraftColumn? visit = byVisit ? table.Column(ColumnRole.Visit) : null;
        DraftColumn? side = bySide ? table.Column(ColumnRole.Side) : null;
        long visits = 1 + (visit?.Definition.Codes.Length ?? 0);
        long[] links = new long[table.Rows];
        foreach (int row in table.Order)
        {
            long link = who[participant.TextOf(row)];
            bool whole = visit is null || visit[row].HasValue;
            if (visit is not null)
                link = (link * visits) + visit[row].Code;
            whole &= side is null || side[row].HasValue;
            if (side is not null)
                link = (link * Sides) + (otherSide ? 1 - side[row].Code : side[row].Code);
            links[row] = whole ? link : -1;
        }
        return links;
    }

    /// <summary>The day of each row: its own, else that of its visit; NaN where neither is known.</summary>
    internal double[] Days(TableDraft table)
    {
        double[] days = new double[table.Rows];
        Array.Fill(days, double.NaN);
        if (table.Column(ColumnRole.Day) is { } day)
        {
            foreach (int row in table.Order)
                days[row] = day[row].HasValue ? day[row].Number : double.NaN;
            return days;
        }
        if (table.Column(ColumnRole.Visit) is null)
            return days;
        Dictionary<long, double> known = dayOfVisit ??= VisitDays();
        long[] links = Links(table, byVisit: true, bySide: false);
        foreach (int row in table.Order)
            days[row] = known.GetValueOrDefault(links[row], double.NaN);
        return days;
    }

    /// <summary>The kept rows sorted by some columns, and for each the number of its group; rows of one group stand together.</summary>
    internal static (int[] Rows, ulong[] Groups) Sorted(TableDraft table, IReadOnlyList<DraftColumn> group, DraftColumn? then)
    {
        ulong[] groupOfRow = KeyOrder.Of(table, group);
        // The rest of the key settles ties, so that the order does not depend on that of the file.
        IEnumerable<DraftColumn> sorting = then is null ? group : [.. group, then];
        ulong[] orderOfRow = KeyOrder.Of(table, [.. sorting.Concat(table.Key).Distinct()]);
        int[] rows = [.. table.Order];
        ulong[] order = Array.ConvertAll(rows, row => orderOfRow[row]);
        Array.Sort(order, rows);
        return (rows, Array.ConvertAll(rows, row => groupOfRow[row]));
    }

    private Dictionary<long, double> VisitDays()
    {
        Dictionary<long, double> days = [];
        if (export.Tables.FirstOrDefault(VisitListRule.IsListOfVisits) is not { } list)
            return days;
        DraftColumn day = list.Column(ColumnRole.Day)!;
        long[] links = Links(list, byVisit: true, bySide: false);
        foreach (int row in list.Order)
        {
            if (day[row].HasValue)
                days.TryAdd(links[row], day[row].Number);
        }
        return days;
    }
}
