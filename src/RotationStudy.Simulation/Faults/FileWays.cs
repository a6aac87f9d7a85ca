namespace RotationStudy.Simulation.Faults;

/// <summary>Damage to a file as a whole. One of these is planted alone: what it does to the file covers everything else.</summary>
internal static class FileWays
{
    internal static IEnumerable<FaultWay> All =>
    [
        File("file_not_sent", "A required file is not sent.", ["file.missing"], "outcomes.csv", (e, f) => e.Remove("outcomes.csv")),
        File("file_without_rows", "A file has a header only.", ["table.no_rows"], "events.csv", (e, f) => f.Rows.Clear()),
        File("file_empty", "A file holds nothing.", ["file.empty"], "visits.csv", (e, f) => { f.Header.Clear(); f.Rows.Clear(); }),
        File("stray_file", "The folder holds a file that nobody asked for.", ["file.unknown"], "notes.csv", (e, f) => e.Add("notes.csv", new ExportFileText(["a", "b"], []))),
        File("column_renamed", "A column has another name.", ["header.unknown"], "imaging.csv", (e, f) => f.Header[f.Header.IndexOf("tibial_torsion_deg")] = "tibial_torsion"),
        File("column_not_sent", "An optional column is not sent.", ["header.absent"], "knee_exams.csv", (e, f) => Drop(f, "foot_progression_deg")),
        File("key_column_not_sent", "A column of the key is not sent.", ["header.missing"], "knee_exams.csv", (e, f) => Drop(f, "rater")),
        File("column_twice", "Two columns have one name.", ["header.duplicate"], "laxity.csv", (e, f) => f.Header[^1] = f.Header[^2]),
    ];

    private static FaultWay File(string name, string does, string[] foundBy, string file, Action<ExportText, ExportFileText> damage)
        => new(name, does, foundBy, null, d =>
        {
            ExportFileText text = d.Export.Has(file) ? d.Export[file] : new ExportFileText([], []);
            damage(d.Export, text);
            return new Planted(file, [], [], null, "whole file", does);
        }) { Alone = true };

    private static void Drop(ExportFileText file, string column)
    {
        int at = file.Header.IndexOf(column);
        file.Header.RemoveAt(at);
        foreach (ExportRow row in file.Rows)
            row.Cells.RemoveAt(at);
    }
}
