using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Guard;

/// <summary>Looks for identifying data in every cell and header of an export, before anything else looks at them.</summary>
/// <remarks>
/// A finding names file, column, rows and rule and never the value. Where there is one, no other check is carried out, since
/// its findings would repeat cells. Each distinct text of a column is judged once. What patterns can find is found; a name
/// that no list knows, alone in a cell, is not: the guard does not replace de-identification.
/// </remarks>
internal static class IdentityGuard
{
    private const int ShownLines = 5;

    /// <summary>What identifies people, in order of file, column and rule; empty when nothing was found.</summary>
    internal static ImmutableArray<Finding> Look(StudyProtocol protocol, ExportFolder exports)
    {
        List<Finding> findings = [];
        foreach (ExportFile file in exports.Files)
        {
            TableDefinition table = protocol.Table(file.Table);
            RawColumn[] columns = [.. file.Columns.Concat(file.Undeclared)];
            List<Finding>[] ofColumn = [.. columns.Select(_ => new List<Finding>())];
            Parallel.For(0, columns.Length, i => LookAtCells(file, columns[i], table.Column(columns[i].Name), ofColumn[i]));
            findings.AddRange(ofColumn.SelectMany(f => f));
        }
        foreach ((string file, string header) in Headers(exports).Distinct())
            LookAtHeader(file, header, findings);
        if (RareCombination.Look(protocol, exports) is { } rare)
            findings.Add(rare);
        return [.. findings.OrderBy(f => f.File, StringComparer.Ordinal).ThenBy(f => f.Line).ThenBy(f => f.Column, StringComparer.Ordinal).ThenBy(f => f.Rule, StringComparer.Ordinal)];
    }

    /// <summary>Findings about the files themselves that may stand beside those of the guard: none that repeats a cell or a header that is a value.</summary>
    internal static IEnumerable<Finding> Harmless(ImmutableArray<Finding> findings)
        => findings.Where(f => f.Value is null && !f.Rule.StartsWith("header.", StringComparison.Ordinal));

    private static IEnumerable<(string File, string Header)> Headers(ExportFolder exports)
        => exports.Files.SelectMany(f => f.Columns.Concat(f.Undeclared).Select(c => (f.Name, c.Name)))
            .Concat(exports.Findings
                .Where(f => f.Column is not null && f.Rule is "header.unknown" or "header.duplicate")
                .Select(f => (f.File, f.Column!)));

    private static void LookAtCells(ExportFile file, RawColumn column, ColumnDefinition? definition, List<Finding> findings)
    {
        CellGuard guard = new(column.Name, definition);
        CheckRule?[] rules = new CheckRule?[column.Texts];
        bool any = false;
        for (int text = 0; text < rules.Length; text++)
        {
            rules[text] = guard.RuleOf(column.Utf8(text));
            any |= rules[text] is not null;
        }
        if (!any)
            return;
        SortedDictionary<string, (CheckRule Rule, List<int> Lines, int Count)> found = new(StringComparer.Ordinal);
        for (int row = 0; row < column.Rows; row++)
        {
            if (rules[column.TextOf(row)] is not { } rule)
                continue;
            (_, List<int> lines, int count) = found.TryGetValue(rule.Id, out var before) ? before : (rule, [], 0);
            if (count < ShownLines)
                lines.Add(file.Lines[row]);
            found[rule.Id] = (rule, lines, count + 1);
        }
        findings.AddRange(found.Values.Select(f => InCells(file.Name, column.Name, f.Rule, f.Lines, f.Count)));
    }

    private static Finding InCells(string file, string header, CheckRule rule, List<int> lines, int count)
    {
        string shown = IdentifyingHeader.Shown(header);
        string places = string.Join(", ", lines.Select(l => l.ToString(CultureInfo.InvariantCulture)));
        string more = count > lines.Count ? FormattableString.Invariant($" and {count - lines.Count} more") : "";
        return rule.At(
            file, lines[0], shown, null, "no identifying data",
            $"The column '{shown}' of {file} holds what looks like {rule.Reason}, in {(count == 1 ? "line" : "lines")} {places}{more}. "
                + "The value is not repeated here. Remove it at the source, destroy this export, and send a new one.");
    }

    private static void LookAtHeader(string file, string header, List<Finding> findings)
    {
        bool isValue = IdentifyingHeader.IsValue(header);
        if (!isValue && !IdentifyingHeader.Tells(header))
            return;
        string shown = IdentifyingHeader.Shown(header);
        string what = isValue
            ? $"The header of {file} holds what looks like a value that identifies a person; it is not repeated here. Is the header line missing?"
            : $"The column '{shown}' of {file} says by its name that it identifies people.";
        findings.Add(GuardRules.Header.At(
            file, 1, shown, null, "no identifying data", what + " Leave the column out, destroy this export, and send a new one."));
    }
}
