using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using CsvHelper;

namespace RotationStudy.Study.Checks;

/// <summary>The findings as a list of questions that goes out to the sites.</summary>
/// <remarks>
/// UTF-8 with a mark, so that spreadsheets read letters right; commas; line feeds. Text that a spreadsheet would run as a
/// formula is preceded by an apostrophe. An id depends on the rule, file, key and column of a finding and not on its line,
/// so a question keeps its id when rows move.
/// </remarks>
public static class QueryList
{
    private static readonly CsvWriterOptions Options = new() { NewLine = "\n", WriteByteOrderMark = true };

    private static readonly string[] Headings =
        ["query", "site", "severity", "rule", "file", "line", "column", "participant", "value", "expected", "message"];

    /// <summary>Writes hips for the clinical team first, then the findings by site, file, line and column; those without a site come first.</summary>
    /// <param name="findings">The findings.</param>
    /// <param name="stream">Where to write; it is left open.</param>
    public static void Write(IEnumerable<Finding> findings, Stream stream)
    {
        using CsvWriter writer = CsvWriter.Create(stream, Options, leaveOpen: true);
        writer.WriteRecord(Headings);
        foreach ((Finding finding, string id) in Numbered(findings))
        {
            string?[] cells =
            [
                id,
                finding.Site,
                Words(finding.Severity),
                finding.Rule,
                finding.File,
                finding.Line == 0 ? null : finding.Line.ToString(CultureInfo.InvariantCulture),
                finding.Column,
                finding.Participant,
                finding.Value,
                finding.Expected,
                finding.Message,
            ];
            writer.WriteRecord(Array.ConvertAll(cells, c => Neutralized(c ?? string.Empty)));
        }
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

    private static IEnumerable<(Finding Finding, string Id)> Numbered(IEnumerable<Finding> findings)
    {
        Dictionary<string, int> seen = new(StringComparer.Ordinal);
        foreach (Finding finding in findings
            .OrderBy(f => f.Rule != CheckCatalog.HipFirst.Id)
            .ThenBy(f => f.Site, StringComparer.Ordinal)
            .ThenBy(f => f.File, StringComparer.Ordinal)
            .ThenBy(f => f.Line)
            .ThenBy(f => f.Column, StringComparer.Ordinal)
            .ThenBy(f => f.Rule, StringComparer.Ordinal))
        {
            string id = IdOf(finding);
            int repeats = seen[id] = seen.GetValueOrDefault(id) + 1;
            yield return (finding, repeats == 1 ? id : FormattableString.Invariant($"{id}-{repeats}"));
        }
    }

    private static string IdOf(Finding finding)
    {
        string identity = string.Join('\n', finding.Rule, finding.File, finding.Key ?? string.Empty, finding.Column ?? string.Empty);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(identity)))[..12];
    }
}
