using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Faults;

/// <summary>Finds random places in an export whose participant has not been damaged yet, so that faults do not cover each other.</summary>
internal sealed class Damage(ExportText export, RandomDraws draws, HashSet<string> touched)
{
    internal ExportText Export => export;

    /// <summary>A random row that fits, of a participant whom no fault has touched; null where there is none.</summary>
    internal ExportRow? Pick(string file, Func<ExportFileText, ExportRow, bool>? fits = null)
    {
        if (!export.Has(file))
            return null;
        ExportFileText text = export[file];
        ExportRow[] rows = [.. text.Rows.Where(r => !touched.Contains(r.Participant) && (fits?.Invoke(text, r) ?? true))];
        if (rows.Length == 0)
            return null;
        ExportRow row = rows[Below(rows.Length)];
        touched.Add(row.Participant);
        return row;
    }

    /// <summary>Puts another value into one cell.</summary>
    internal Planted? Set(string file, string column, Func<string, string> change, Func<ExportFileText, ExportRow, bool>? fits = null)
    {
        if (Pick(file, (f, r) => f.Get(r, column) is not ("" or "NA") && (fits?.Invoke(f, r) ?? true)) is not { } row)
            return null;
        return SetIn(file, row, column, change(export[file].Get(row, column)));
    }

    /// <summary>Puts a value into a cell of a row that was picked.</summary>
    internal Planted SetIn(string file, ExportRow row, string column, string value)
    {
        string before = export[file].Get(row, column);
        string participant = row.Participant;
        export[file].Set(row, column, value);
        return new Planted(file, [row], [participant], column, before, value);
    }

    /// <summary>The rows of a participant in a file, in their order.</summary>
    internal ExportRow[] RowsOf(string file, string participant) => export[file].Of(participant);

    /// <summary>Takes rows out of a file.</summary>
    internal Planted Remove(string file, string participant, IReadOnlyCollection<ExportRow> rows)
    {
        export[file].Rows.RemoveAll(rows.Contains);
        return new Planted(file, [], [participant], null, $"{rows.Count} rows", "taken out");
    }

    /// <summary>A whole number from 0 to one below the limit.</summary>
    internal int Below(int limit) => Math.Min(limit - 1, (int)(draws.Uniform() * limit));

    internal void Touch(string participant) => touched.Add(participant);
}
