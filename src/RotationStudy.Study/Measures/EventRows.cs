using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Which rows of a table are an event: their code is one of some, and that of a second column too where one is named.</summary>
internal sealed class EventRows
{
    private readonly CodeColumn kind;
    private readonly HashSet<int> kinds;
    private readonly CodeColumn? second;
    private readonly HashSet<int> seconds = [];

    internal EventRows(EventSelection selection, RecordTable table)
    {
        kind = (CodeColumn)table[selection.Column];
        kinds = Indices(kind, selection.Codes);
        if (selection.Where is not { } where)
            return;
        second = (CodeColumn)table[where.Column];
        seconds = Indices(second, where.Codes);
    }

    internal bool Holds(int row)
        => kind.HasValue(row) && kinds.Contains(kind.Indices[row])
            && (second is null || (second.HasValue(row) && seconds.Contains(second.Indices[row])));

    /// <summary>Positions of codes in the list of a column.</summary>
    internal static HashSet<int> Indices(CodeColumn column, IEnumerable<string> codes)
    {
        HashSet<string> wanted = [.. codes];
        return [.. Enumerable.Range(0, column.Definition.Codes.Length).Where(i => wanted.Contains(column.Definition.Codes[i].Code))];
    }
}
