using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads tables.yaml.</summary>
/// <remarks>The codes of visits and sites are those of study.yaml, and sides are L and R: they are not written again in every table.</remarks>
internal static class TablesReader
{
    private static readonly ImmutableArray<CodeDefinition> Sides = [new("L", "left"), new("R", "right")];

    internal static ImmutableArray<TableDefinition> Read(YamlSection top, StudyDescription study)
    {
        ImmutableArray<TableDefinition>.Builder tables = ImmutableArray.CreateBuilder<TableDefinition>();
        top.Need("tables", "List the tables of an export.");
        foreach (YamlSection section in top.Owners("tables", "table"))
            tables.Add(ReadTable(section, study));
        top.Close();
        return tables.ToImmutable();
    }

    private static TableDefinition ReadTable(YamlSection section, StudyDescription study)
    {
        TableDefinition table = new(
            Name: section.Text("name"),
            Label: section.Text("label"),
            File: section.Text("file"),
            Required: section.Flag("required"),
            IsRoster: section.FlagOrFalse("is_roster"),
            Key: section.Texts("key"),
            Columns: [.. section.Owners("columns", "column").Select(c => ReadColumn(c, study)).OfType<ColumnDefinition>()],
            Place: section.Place);
        section.Need("key", "Name the columns that name a row uniquely.");
        section.Need("columns", "List the columns.");
        section.Close();
        return table;
    }

    private static ColumnDefinition? ReadColumn(YamlSection section, StudyDescription study)
    {
        ColumnRole role = section.Word("role", ColumnRole.Value);
        ColumnType? type = section.Word<ColumnType>("type");
        ColumnDefinition column = new(
            Name: section.Text("name"),
            Label: section.Text("label"),
            Type: type ?? ColumnType.Identifier,
            Role: role,
            Unit: section.OptionalText("unit"),
            Possible: ReadRange(section, "possible"),
            Plausible: ReadRange(section, "plausible"),
            Codes: type == ColumnType.Code ? CodesOf(section, role, study) : ReadCodes(section, "codes"),
            MissingCodes: ReadCodes(section, "missing_codes"),
            Required: section.FlagOrFalse("required"),
            Method: section.OptionalText("method"),
            Source: section.OptionalText("source"),
            Place: section.Place);
        section.Close();
        return type is null ? null : column;
    }

    private static ImmutableArray<CodeDefinition> CodesOf(YamlSection section, ColumnRole role, StudyDescription study)
    {
        ImmutableArray<CodeDefinition> written = ReadCodes(section, "codes");
        (ImmutableArray<CodeDefinition> codes, string from)? given = role switch
        {
            ColumnRole.Visit => ([.. study.Visits.Select(v => new CodeDefinition(v.Id, v.Label))], "the visits of study.yaml"),
            ColumnRole.Site => ([.. study.Sites.Select(s => new CodeDefinition(s.Id, s.Label))], "the sites of study.yaml"),
            ColumnRole.Side => (Sides, "L and R"),
            _ => null,
        };
        if (given is null)
            return written;
        if (written.Length > 0)
            section.Fault("codes", "Codes are given twice.", $"Remove 'codes'; they are {given.Value.from}.");
        return given.Value.codes;
    }

    private static ValueRange? ReadRange(YamlSection section, string key)
    {
        if (section.Section(key) is not { } range)
            return null;
        ValueRange read = new(range.Number("lowest"), range.Number("highest"));
        range.Close();
        return read;
    }

    private static ImmutableArray<CodeDefinition> ReadCodes(YamlSection section, string key)
    {
        ImmutableArray<CodeDefinition>.Builder codes = ImmutableArray.CreateBuilder<CodeDefinition>();
        foreach (YamlSection code in section.Sections(key))
        {
            codes.Add(new CodeDefinition(code.Text("code"), code.Text("meaning")));
            code.Close();
        }
        return codes.ToImmutable();
    }
}
