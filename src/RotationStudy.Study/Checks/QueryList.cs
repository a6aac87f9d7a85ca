using System.Collections.Immutable;
using System.Globalization;
using CsvHelper;
using RotationStudy.Study.Workbooks;

namespace RotationStudy.Study.Checks;

/// <summary>The findings as a list of questions that goes out to the sites.</summary>
/// <remarks>
/// CSV in UTF-8 with a mark, so that spreadsheets read letters right; commas; line feeds; and the same as a workbook. Text
/// that a spreadsheet would run as a formula is preceded by an apostrophe. The last column is for the site's answer.
/// </remarks>
public static class QueryList
{
    /// <summary>Stands in the name of the list of what is about no one site.</summary>
    public const string NoSite = "no-site";

    internal static readonly string[] Headings =
        ["query", "site", "severity", "rule", "file", "line", "column", "participant", "value", "expected", "message", "status", "answer"];

    private static readonly double[] Widths = [15, 6, 18, 22, 18, 7, 26, 12, 14, 24, 80, 10, 40];

    private static readonly CsvWriterOptions Options = new() { NewLine = "\n", WriteByteOrderMark = true };

    /// <summary>The queries of these findings, and after them those of the earlier list that were answered.</summary>
    /// <param name="findings">The findings.</param>
    /// <param name="previous">The earlier list.</param>
    public static ImmutableArray<Query> Of(IEnumerable<Finding> findings, PreviousQueries previous)
    {
        List<Query> queries =
        [
            .. QueryNumbers.Of(findings).Select(f => new Query(
                f.Id, f.Finding.Site, Words(f.Finding.Severity), f.Finding.Rule, f.Finding.File, f.Finding.Line == 0 ? null : f.Finding.Line,
                f.Finding.Column, f.Finding.Participant, f.Finding.Value, f.Finding.Expected, f.Finding.Message, QueryStatus.New))
                .Select(q => q with { Status = previous.StatusOf(q) }),
        ];
        queries.AddRange(previous.AnsweredBy(queries.Select(q => q.Id).ToHashSet(StringComparer.Ordinal)).OrderBy(q => q.Site, StringComparer.Ordinal));
        return [.. queries];
    }

    /// <summary>The files of a list: all of it as CSV and workbook, and the same for each site.</summary>
    /// <param name="queries">The queries.</param>
    /// <param name="sites">Sites of the study; each gets a list, if only to see that it is empty.</param>
    /// <returns>Names relative to the folder, with forward slashes, and contents.</returns>
    public static IEnumerable<(string Name, byte[] Content)> Files(ImmutableArray<Query> queries, IEnumerable<string> sites)
    {
        yield return ("query-list.csv", Csv(queries));
        yield return ("query-list.xlsx", Workbook(queries));
        HashSet<string> taken = new(StringComparer.OrdinalIgnoreCase);
        foreach (string? site in sites.Concat(queries.Select(q => q.Site)).Prepend(null).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal))
        {
            string name = "queries/" + FileName(site, taken);
            Query[] own = [.. queries.Where(q => q.Site == site)];
            yield return (name + ".csv", Csv(own));
            yield return (name + ".xlsx", Workbook(own));
        }
    }

    /// <summary>A list as CSV.</summary>
    public static byte[] Csv(IEnumerable<Query> queries)
    {
        using MemoryStream stream = new();
        using (CsvWriter writer = CsvWriter.Create(stream, Options, leaveOpen: true))
        {
            writer.WriteRecord(Headings);
            foreach (Query query in queries)
                writer.WriteRecord(Array.ConvertAll(Cells(query), c => Neutralized(c ?? string.Empty)));
        }
        return stream.ToArray();
    }

    /// <summary>Text that a spreadsheet shows as it is: what would be run as a formula is preceded by an apostrophe. Numbers stay numbers.</summary>
    internal static string Neutralized(string text)
    {
        bool mayRun = text.Length > 0 && text[0] is '=' or '+' or '-' or '@' or '\t' or '\r' or '\n';
        return mayRun && !double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _) ? "'" + text : text;
    }

    /// <summary>What a severity means to a site.</summary>
    public static string Words(Severity severity) => severity switch
    {
        Severity.Stop => "must be solved first",
        Severity.SetAside => "left out",
        Severity.AskTheSite => "please answer",
        _ => "for information",
    };

    private static byte[] Workbook(IEnumerable<Query> queries)
        => WorkbookFile.Write([new WorkbookSheet("Queries", Headings, Widths, [.. queries.Select(q => Array.ConvertAll(Cells(q), c => Neutralized(c ?? string.Empty)))])]);

    private static string?[] Cells(Query query) =>
    [
        query.Id, query.Site, query.Severity, query.Rule, query.File, query.Line?.ToString(CultureInfo.InvariantCulture),
        query.Column, query.Participant, query.Value, query.Expected, query.Message, Words(query.Status), null,
    ];

    private static string Words(QueryStatus status) => status switch
    {
        QueryStatus.New => "new",
        QueryStatus.Open => "open",
        QueryStatus.Changed => "changed",
        _ => "answered",
    };

    /// <summary>A plain file name for a site, unlike those before.</summary>
    private static string FileName(string? site, HashSet<string> taken)
    {
        string plain = site is null ? NoSite : new string([.. site.Select(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' ? c : '_')]);
        string name = plain;
        for (int n = 2; !taken.Add(name); n++)
            name = FormattableString.Invariant($"{plain}_{n}");
        return name;
    }
}
