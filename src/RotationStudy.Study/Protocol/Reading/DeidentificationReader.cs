using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads deidentification.yaml.</summary>
internal static class DeidentificationReader
{
    internal static Deidentification Read(YamlSection top, ImmutableArray<TableDefinition> tables)
    {
        int smallest = top.WholeNumber("smallest_group");
        if (top.Has("smallest_group") && smallest < 2)
            top.Fault("smallest_group", "'smallest_group' must be 2 or more.", "A group of one is a person.");
        top.Need("quasi_identifiers", "List the columns of the roster by which somebody could be recognised.");
        ImmutableArray<QuasiIdentifier>.Builder columns = ImmutableArray.CreateBuilder<QuasiIdentifier>();
        foreach (YamlSection section in top.Sections("quasi_identifiers"))
        {
            columns.Add(ReadColumn(section, tables.FirstOrDefault(t => t.IsRoster)));
            section.Close();
        }
        top.Close();
        return new Deidentification(smallest, columns.ToImmutable());
    }

    private static QuasiIdentifier ReadColumn(YamlSection section, TableDefinition? roster)
    {
        QuasiIdentifier read = new(section.Text("column"), section.Number("width", 0));
        string[] names = [.. roster?.Columns.Select(c => c.Name) ?? []];
        if (roster?.Column(read.Column) is not { } column)
            section.Fault("column", $"'{read.Column}' is no column of the table that lists the participants.", NearestName.Hint(read.Column, names));
        else if ((column.Type is ColumnType.Number or ColumnType.WholeNumber) != (read.Width > 0))
            section.Fault("width", $"'{read.Column}' needs a width above 0 if it is a number, and none otherwise.", "Numbers are grouped, since hardly two are the same.");
        return read;
    }
}
