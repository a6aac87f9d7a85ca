using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Exports;

/// <summary>The header of a file, matched to the declared columns.</summary>
/// <param name="Names">All names of the header.</param>
/// <param name="Positions">Positions of the declared columns, in the order of the file.</param>
internal sealed record CsvHeader(ImmutableArray<string> Names, ImmutableArray<int> Positions)
{
    private static readonly (char Separator, string Words)[] OtherSeparators = [(';', "semicolons"), ('\t', "tabs"), ('|', "upright strokes")];

    /// <summary>Matches a header by exact names; null when the file cannot be used, with findings that say why.</summary>
    internal static CsvHeader? Match(IReadOnlyList<string> names, TableDefinition table, List<Finding> findings)
    {
        if (OtherSeparator(names, table) is { } words)
        {
            findings.Add(CheckCatalog.FileSeparator.At(
                table.File, 1, null, null, "commas",
                $"{table.File} is separated by {words}. Save it with commas between cells and a point in decimal numbers."));
            return null;
        }
        int before = findings.Count(f => f.Severity == Severity.Stop);
        ReportTwice(names, table, findings);
        string[] unknown = [.. names.Where(n => table.Column(n) is null).Distinct()];
        string[] missing = [.. table.Columns.Select(c => c.Name).Except(names)];
        ReportUnknown(unknown, missing, table, findings);
        ReportMissing(missing, unknown, table, findings);
        if (findings.Count(f => f.Severity == Severity.Stop) > before)
            return null;
        return new CsvHeader([.. names], [.. Enumerable.Range(0, names.Count).Where(i => table.Column(names[i]) is not null)]);
    }

    private static string? OtherSeparator(IReadOnlyList<string> names, TableDefinition table)
    {
        if (names.Any(n => table.Column(n) is not null))
            return null;
        foreach ((char separator, string words) in OtherSeparators)
        {
            if (names.Any(n => n.Contains(separator)))
                return words;
        }
        return null;
    }

    private static void ReportTwice(IReadOnlyList<string> names, TableDefinition table, List<Finding> findings)
    {
        foreach (string name in names.GroupBy(n => n, StringComparer.Ordinal).Where(g => g.Count() > 1).Select(g => g.Key))
        {
            string what = name.Length == 0 ? "Two columns have no name" : $"The column '{name}' stands twice";
            findings.Add(CheckCatalog.HeaderDuplicate.At(
                table.File, 1, name, null, "each name once",
                $"{what} in the header of {table.File}. Remove or rename one."));
        }
    }

    private static void ReportUnknown(string[] unknown, string[] missing, TableDefinition table, List<Finding> findings)
    {
        foreach (string name in unknown)
        {
            string hint = NearestName.Of(name, missing) is { } near
                ? $"Should it be called '{near}'?"
                : "Remove it, or ask for it to be added to the protocol.";
            findings.Add(CheckCatalog.HeaderUnknown.At(
                table.File, 1, name, null, "a column of the protocol",
                $"The column '{name}' of {table.File} is not declared in the protocol and was not read. {hint}"));
        }
    }

    private static void ReportMissing(string[] missing, string[] unknown, TableDefinition table, List<Finding> findings)
    {
        foreach (string name in missing)
        {
            string hint = NearestName.Of(name, unknown) is { } near ? $"Is it the column called '{near}'?" : "Send the file with this column.";
            bool needed = table.Column(name)!.Required || table.Key.Contains(name);
            CheckRule rule = needed ? CheckCatalog.HeaderMissing : CheckCatalog.HeaderAbsent;
            string consequence = needed ? "Nothing can be analysed without it." : "Its values count as not recorded for every row.";
            findings.Add(rule.At(
                table.File, 1, name, null, $"a column '{name}'",
                $"{table.File} has no column '{name}'. {hint} {consequence}"));
        }
    }
}
