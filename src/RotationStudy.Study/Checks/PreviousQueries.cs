using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Exports.Formats;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Withdrawal;

namespace RotationStudy.Study.Checks;

/// <summary>An earlier query list, as CSV or XLSX, and what became of its queries.</summary>
/// <remarks>
/// A query is the same when its id is. It has changed when its value, what was expected, or the message is different; numbers
/// of lines in a message do not count, since rows move. A query that was answered stands in one list and in no later one.
/// </remarks>
public sealed partial class PreviousQueries
{
    private readonly Dictionary<string, Query> queries;

    private PreviousQueries(Dictionary<string, Query> queries) => this.queries = queries;

    /// <summary>No earlier list: every query is new.</summary>
    public static PreviousQueries None { get; } = new([]);

    /// <summary>Reads a list that this program wrote; a workbook may have been filled in by a site.</summary>
    /// <param name="path">The file, .csv or .xlsx.</param>
    /// <param name="withdrawn">Who withdrew consent since: their queries are forgotten.</param>
    /// <exception cref="UnreadableQueryList">The file is no query list.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public static PreviousQueries Read(string path, WithdrawnIds withdrawn)
    {
        if (!File.Exists(path))
            throw new FileNotFoundException($"There is no earlier query list '{path}'.", path);
        try
        {
            using TableSource? source = RowFormat.Open(path, Path.GetFileName(path), FileLayout.Default, new ExportReading(CancellationToken.None, null));
            return source is RowSource rows
                ? new PreviousQueries(ReadRows(rows, path, withdrawn))
                : throw new UnreadableQueryList(path, 0, "The earlier query list holds no text.");
        }
        catch (UnreadableFileException fault)
        {
            throw new UnreadableQueryList(path, fault.Line, $"The earlier query list cannot be read: {fault.Message}.", fault);
        }
    }

    /// <summary>What became of a query since.</summary>
    internal QueryStatus StatusOf(Query now)
        => !queries.TryGetValue(now.Id, out Query? before) || before.Status == QueryStatus.Answered ? QueryStatus.New
            : Says(before) == Says(now) ? QueryStatus.Open
            : QueryStatus.Changed;

    /// <summary>Queries that are not found any more, in the order of the earlier list.</summary>
    internal IEnumerable<Query> AnsweredBy(IReadOnlySet<string> ids)
        => queries.Values.Where(q => q.Status != QueryStatus.Answered && !ids.Contains(q.Id)).Select(q => q with { Status = QueryStatus.Answered, Line = null });

    private static Dictionary<string, Query> ReadRows(RowSource rows, string path, WithdrawnIds withdrawn)
    {
        int[] at = [.. QueryList.Headings.Select(h => rows.Header.Select(n => n.Trim()).ToList().IndexOf(h))];
        if (Array.FindIndex(at, 0, QueryList.Headings.Length - 1, a => a < 0) is var lost and >= 0)
            throw new UnreadableQueryList(path, 1, $"The earlier query list has no column '{QueryList.Headings[lost]}'.");
        Dictionary<string, Query> queries = new(StringComparer.Ordinal);
        while (rows.Read())
        {
            string?[] cells = Array.ConvertAll(at, a => a < 0 || a >= rows.Cells || rows.Cell(a).IsEmpty ? null : Encoding.UTF8.GetString(rows.Cell(a)));
            if (cells[0] is not { } id)
                throw new UnreadableQueryList(path, rows.Line, "A line of the earlier query list has no id.");
            if (!Enum.TryParse(cells[11], ignoreCase: true, out QueryStatus status))
                throw new UnreadableQueryList(path, rows.Line, "A line of the earlier query list has a status that is none of new, open, changed, answered.");
            if (cells[7] is not null && withdrawn.Find(cells[7]!) is not null)
                continue;
            Query query = new(
                id, cells[1], cells[2] ?? string.Empty, cells[3] ?? string.Empty, cells[4] ?? string.Empty,
                int.TryParse(cells[5], NumberStyles.None, CultureInfo.InvariantCulture, out int line) ? line : null,
                cells[6], cells[7], withdrawn.Without(cells[8]), withdrawn.Without(cells[9]) ?? string.Empty, withdrawn.Without(cells[10]) ?? string.Empty, status);
            if (!queries.TryAdd(id, query))
                throw new UnreadableQueryList(path, rows.Line, $"The earlier query list has the id {id} twice.");
        }
        return queries;
    }

    /// <summary>What a query says, as a list writes it, without numbers of lines.</summary>
    private static string Says(Query query)
        => string.Join('\n', QueryList.Neutralized(query.Value ?? string.Empty), QueryList.Neutralized(query.Expected), Lines().Replace(QueryList.Neutralized(query.Message), "line"));

    [GeneratedRegex("lines? [0-9]+((, | and )[0-9]+)*", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Lines();
}

/// <summary>An earlier query list that cannot be compared with.</summary>
public sealed class UnreadableQueryList(string path, int line, string what, Exception? inner = null)
    : Exception($"{path}{(line > 0 ? FormattableString.Invariant($":{line}") : string.Empty)}: {what} Name a query list as this program wrote it, or leave --previous out.", inner);
