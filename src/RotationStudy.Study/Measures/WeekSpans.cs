using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>The weeks of diaries: for each participant every week from the first with an entry to the last, gaps included.</summary>
internal sealed class WeekSpans
{
    private readonly SortedDictionary<string, (int First, int Last)> spans = new(StringComparer.Ordinal);
    private readonly int offset;
    private int lastWeek;

    private WeekSpans(bool hasDiary, int offset)
    {
        HasDiary = hasDiary;
        this.offset = offset;
    }

    /// <summary>Whether a measure of weeks is declared.</summary>
    internal bool HasDiary { get; }

    /// <summary>Labels of weeks 1 to the last, to be put after the other occasions.</summary>
    internal IEnumerable<string> Labels => Enumerable.Range(1, lastWeek).Select(DiaryWeeks.Label);

    /// <param name="records">Checked records.</param>
    /// <param name="protocol">The protocol, whose weekly measures name the diaries.</param>
    /// <param name="offset">Number of occasions before the first week.</param>
    internal static WeekSpans Read(CheckedRecords records, StudyProtocol protocol, int offset)
    {
        string[] diaries = [.. protocol.Measures
            .Select(m => m switch { WeeklyMeasure w => w.Table, WeeklyChangesMeasure w => w.Table, _ => null })
            .OfType<string>().Distinct(StringComparer.Ordinal)];
        WeekSpans weeks = new(diaries.Length > 0, offset);
        foreach (string name in diaries)
            weeks.Add(records[name]);
        return weeks;
    }

    internal int Position(int week) => week >= 1 && week <= lastWeek ? offset + week - 1 : -1;

    internal int WeekAt(int position) => position - offset + 1;

    internal ImmutableArray<RowKey> Rows(Func<string, int> participant)
    {
        ImmutableArray<RowKey>.Builder rows = ImmutableArray.CreateBuilder<RowKey>();
        foreach ((string id, (int first, int last)) in spans)
        {
            int who = participant(id);
            for (int week = first; who >= 0 && week <= last; week++)
                rows.Add(new RowKey(who, -1, Position(week)));
        }
        return rows.ToImmutable();
    }

    private void Add(RecordTable table)
    {
        IdentifierColumn who = (IdentifierColumn)table[table.Definition.Column(ColumnRole.Participant)!.Name];
        NumberColumn day = (NumberColumn)table[table.Definition.Column(ColumnRole.Day)!.Name];
        for (int row = 0; row < table.Rows; row++)
        {
            if (!day.HasValue(row) || DiaryWeeks.WeekOf(day.Values[row]) is var week && week < 1)
                continue;
            spans[who.Values[row]] = spans.TryGetValue(who.Values[row], out (int First, int Last) span)
                ? (Math.Min(span.First, week), Math.Max(span.Last, week))
                : (week, week);
            lastWeek = Math.Max(lastWeek, week);
        }
    }
}
