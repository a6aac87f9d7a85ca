using System.Globalization;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Guard;

/// <summary>Counts the participants of each combination of the columns by which somebody could be recognised.</summary>
/// <remarks>One finding for all of them: how many participants, in which lines; never the combination itself.</remarks>
internal static class RareCombination
{
    private const int ShownLines = 5;

    internal static Finding? Look(StudyProtocol protocol, ExportFolder exports)
    {
        if (protocol.Deidentification is not { } rule
            || protocol.Tables.FirstOrDefault(t => t.IsRoster) is not { } roster
            || exports.Of(roster.Name) is not { } file)
            return null;
        (RawColumn Column, string[] Groups)[] parts =
            [.. rule.QuasiIdentifiers.Select(q => (file.Column(q.Column), q.Width)).Where(p => p.Item1 is not null).Select(p => (p.Item1!, GroupsOf(p.Item1!, p.Width)))];
        if (parts.Length == 0)
            return null;
        Dictionary<string, List<int>> lines = new(StringComparer.Ordinal);
        for (int row = 0; row < file.Rows; row++)
        {
            string combination = string.Join('\n', parts.Select(p => p.Groups[p.Column.TextOf(row)]));
            if (!lines.TryGetValue(combination, out List<int>? alike))
                lines.Add(combination, alike = []);
            alike.Add(file.Lines[row]);
        }
        int[] rare = [.. lines.Values.Where(l => l.Count < rule.SmallestGroup).SelectMany(l => l).Order()];
        return rare.Length == 0 ? null : Found(rule, file.Name, rare);
    }

    private static Finding Found(Deidentification rule, string file, int[] rare)
    {
        string columns = string.Join(", ", rule.QuasiIdentifiers.Select(q => q.Column));
        string places = string.Join(", ", rare.Take(ShownLines).Select(l => l.ToString(CultureInfo.InvariantCulture)));
        string more = rare.Length > ShownLines ? FormattableString.Invariant($" and {rare.Length - ShownLines} more") : "";
        return GuardRules.Rare.At(
            file, rare[0], null, null, $"at least {rule.SmallestGroup} participants of each combination",
            $"Fewer than {rule.SmallestGroup} participants share a combination of {columns} in {(rare.Length == 1 ? "line" : "lines")} {places}{more} of {file}, "
                + "so they could be recognised. Send coarser groups, or widen those of deidentification.yaml.");
    }

    /// <summary>The group of each distinct text: the text itself, or which multiple of the width a number reaches.</summary>
    private static string[] GroupsOf(RawColumn column, double width)
        => [.. Enumerable.Range(0, column.Texts).Select(t => width > 0
            && double.TryParse(column.Text(t), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double number)
                ? Math.Floor(number / width).ToString(CultureInfo.InvariantCulture)
                : column.Text(t))];
}
