using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Looks names up in the protocol and reports, at the word itself, those that name nothing.</summary>
internal sealed class RuleContext(StudyProtocol protocol, ReadingContext reading)
{
    private readonly Dictionary<string, ValueNature> measures = new(StringComparer.Ordinal);

    internal StudyProtocol Protocol => protocol;

    internal int Faults => reading.Faults.Count;

    /// <summary>Reports a fault at a value of an owner; at the owner when the value was left out.</summary>
    internal void Fault(Place owner, string path, string what, string hint) => reading.Faults.Add(reading.Places.Of(owner, path), what, hint);

    /// <summary>Whether the value was written.</summary>
    internal bool Written(Place owner, string path) => reading.Places.Holds(owner, path);

    internal TableDefinition? Table(Place owner, string path, string name)
    {
        // An empty name was reported as missing when it was read.
        if (name.Length == 0)
            return null;
        TableDefinition? table = protocol.Tables.FirstOrDefault(t => t.Name == name);
        if (table is null)
        {
            Fault(
                owner, path, $"No table is called '{name}'.",
                NearestName.Hint(name, [.. protocol.Tables.Select(t => t.Name)]));
        }
        return table;
    }

    internal ColumnDefinition? Column(Place owner, string path, TableDefinition? table, string name)
    {
        if (table is null || name.Length == 0)
            return null;
        ColumnDefinition? column = table.Column(name);
        if (column is null)
        {
            Fault(
                owner, path, $"Table '{table.Name}' has no column '{name}'.",
                NearestName.Hint(name, [.. table.Columns.Select(c => c.Name)]));
        }
        return column;
    }

    /// <summary>A column whose values are codes.</summary>
    internal ColumnDefinition? CodeColumn(Place owner, string path, TableDefinition? table, string name)
    {
        ColumnDefinition? column = Column(owner, path, table, name);
        if (column is null || column.Type == ColumnType.Code)
            return column;
        Fault(owner, path, $"Column '{name}' holds no codes.", "Name a column of type code.");
        return null;
    }

    internal void Code(Place owner, string path, ColumnDefinition? column, string code)
    {
        if (column is null || code.Length == 0 || column.Codes.Any(c => c.Code == code))
            return;
        Fault(
            owner, path, $"Column '{column.Name}' has no code '{code}'.",
            NearestName.Hint(code, [.. column.Codes.Select(c => c.Code)]));
    }

    internal void Visit(Place owner, string path, TableDefinition? table, string? visit)
    {
        if (visit is null)
            return;
        if (table is not null && !table.Key.Any(k => table.Column(k)?.Role == ColumnRole.Visit))
            Fault(owner, path, $"Table '{table.Name}' has no visits.", "Remove 'visit'.");
        if (protocol.Study.Visits.All(v => v.Id != visit))
        {
            Fault(
                owner, path, $"No visit is called '{visit}'.",
                NearestName.Hint(visit, [.. protocol.Study.Visits.Select(v => v.Id)]));
        }
    }

    /// <summary>Remembers a measure whose definition has no fault; later ones may refer to it.</summary>
    internal void Learn(string id, ValueNature nature) => measures.TryAdd(id, nature);

    /// <summary>What is known of a measure; null when it does not exist, or when its own faults have been reported.</summary>
    internal ValueNature? Measure(Place owner, string path, string? id)
    {
        if (string.IsNullOrEmpty(id))
            return null;
        if (measures.TryGetValue(id, out ValueNature? nature))
            return nature;
        if (protocol.Measures.All(m => m.Id != id) && !reading.UnreadMeasures.Contains(id))
        {
            Fault(
                owner, path, $"No measure is called '{id}'.",
                NearestName.Hint(id, [.. protocol.Measures.Select(m => m.Id)]));
        }
        return null;
    }

    /// <summary>A measure that a measure refers to: it must stand above, so that no two can refer to each other.</summary>
    internal ValueNature? MeasureAbove(MeasureDefinition measure, string path, string id)
    {
        int at = protocol.Measures.IndexOf(measure);
        bool below = protocol.Measures.Skip(at).Any(m => m.Id == id) && !measures.ContainsKey(id);
        if (!below)
            return Measure(measure.Place, path, id);
        Fault(
            measure.Place, path, $"Measure '{id}' is declared at or below the measure that uses it.",
            $"Move '{id}' above '{measure.Id}'.");
        return null;
    }

    /// <summary>Reports each value that occurred before.</summary>
    internal void Unique(IEnumerable<(string Name, Place Owner, string Path)> names, string noun)
    {
        HashSet<string> seen = new(StringComparer.Ordinal);
        foreach ((string name, Place owner, string path) in names)
        {
            if (name.Length > 0 && !seen.Add(name))
                Fault(owner, path, $"The {noun} '{name}' is declared twice.", "Rename or remove one.");
        }
    }

    /// <summary>Reports a name that cannot serve as the name of a file or a mark in a page.</summary>
    internal void PlainName(string name, Place owner, string path)
    {
        if (name.Length > 0 && (!name.All(c => char.IsAsciiLetterOrDigit(c) || c is '_' or '-') || name[0] is '-' or '_'))
        {
            Fault(
                owner, path, $"'{name}' is no plain name.",
                "Use letters a to z, digits, '_' and '-', beginning with a letter or digit.");
        }
    }
}
