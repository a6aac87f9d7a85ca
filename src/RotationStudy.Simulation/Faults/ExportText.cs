using System.Text;

namespace RotationStudy.Simulation.Faults;

/// <summary>The files of an export as rows of cells, to be damaged and written again.</summary>
internal sealed class ExportText
{
    private readonly SortedDictionary<string, ExportFileText> files = new(StringComparer.Ordinal);

    internal IEnumerable<string> Names => files.Keys;

    internal ExportFileText this[string file] => files[file];

    internal bool Has(string file) => files.ContainsKey(file);

    /// <summary>Reads the CSV files of a made-up export, whose cells hold neither commas nor quotation marks.</summary>
    internal static ExportText Read(string folder)
    {
        ExportText export = new();
        foreach (string path in Directory.EnumerateFiles(folder, "*.csv").Order(StringComparer.Ordinal))
        {
            string[] lines = File.ReadAllText(path).TrimEnd('\n').Split('\n');
            export.files.Add(Path.GetFileName(path), new ExportFileText(
                [.. lines[0].Split(',')], [.. lines.Skip(1).Select(l => new ExportRow([.. l.Split(',')]))]));
        }
        return export;
    }

    internal void Remove(string file) => files.Remove(file);

    internal void Add(string file, ExportFileText text) => files.Add(file, text);

    /// <summary>Writes the files; cells with a comma are quoted.</summary>
    internal void Write(string folder)
    {
        Directory.CreateDirectory(folder);
        foreach ((string name, ExportFileText file) in files)
        {
            StringBuilder text = new();
            if (file.Header.Count > 0)
                AppendLine(text, file.Header);
            foreach (ExportRow row in file.Rows)
                AppendLine(text, row.Cells);
            File.WriteAllText(Path.Combine(folder, name), text.ToString(), new UTF8Encoding(false));
        }
    }

    private static void AppendLine(StringBuilder text, List<string> cells)
        => text.AppendJoin(',', cells.Select(c => c.Contains(',') ? $"\"{c}\"" : c)).Append('\n');
}

/// <summary>One file: header and rows.</summary>
/// <param name="Header">Column names.</param>
/// <param name="Rows">Rows in their order.</param>
internal sealed record ExportFileText(List<string> Header, List<ExportRow> Rows)
{
    private ILookup<string, ExportRow>? byParticipant;
    private int rowsThen;

    /// <summary>The rows of a participant, in their order.</summary>
    internal ExportRow[] Of(string participant)
    {
        if (byParticipant is null || rowsThen != Rows.Count)
        {
            byParticipant = Rows.ToLookup(r => r.Participant, StringComparer.Ordinal);
            rowsThen = Rows.Count;
        }
        return [.. byParticipant[participant]];
    }

    internal string Get(ExportRow row, string column) => row.Cells[Header.IndexOf(column)];

    internal void Set(ExportRow row, string column, string value) => row.Cells[Header.IndexOf(column)] = value;
}

/// <summary>A row, which keeps its identity wherever it moves.</summary>
/// <param name="cells">Cells in order of the header.</param>
internal sealed class ExportRow(List<string> cells)
{
    internal List<string> Cells { get; } = cells;

    /// <summary>First cell: the participant, in every file but the screening log.</summary>
    internal string Participant => Cells[0];

    internal ExportRow Copy() => new([.. Cells]);
}
