using System.Collections.Immutable;
using System.Globalization;
using CsvHelper;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Guard;

/// <summary>What identified people in an export, for whoever must remove it: file, column, rule and lines, and never the value.</summary>
public static class GuardReport
{
    /// <summary>Name of the report.</summary>
    public const string FileName = "identifying-data.csv";

    private static readonly CsvWriterOptions Options = new() { NewLine = "\n", WriteByteOrderMark = true };

    /// <summary>The report; null when nothing identified anybody.</summary>
    /// <param name="findings">Findings of a check.</param>
    public static byte[]? Csv(ImmutableArray<Finding> findings)
    {
        Finding[] found = [.. findings.Where(f => f.Rule.StartsWith(GuardRules.Prefix, StringComparison.Ordinal))];
        if (found.Length == 0)
            return null;
        using MemoryStream stream = new();
        using (CsvWriter writer = CsvWriter.Create(stream, Options, leaveOpen: true))
        {
            writer.WriteRecord(["file", "column", "rule", "looks like", "first line", "what to do"]);
            foreach (Finding finding in found)
            {
                writer.WriteRecord(
                [
                    finding.File, QueryList.Neutralized(finding.Column ?? string.Empty), finding.Rule, CheckCatalog.Reason(finding.Rule),
                    finding.Line.ToString(CultureInfo.InvariantCulture), finding.Message,
                ]);
            }
        }
        return stream.ToArray();
    }
}
