using System.Collections.Immutable;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Archive;

/// <summary>Findings as a file of an archive, in their order.</summary>
internal static class FindingFile
{
    private static readonly (string Name, Func<Finding, string?> Text)[] Parts =
    [
        ("rule", f => f.Rule),
        ("severity", f => f.Severity.ToString()),
        ("file", f => f.File),
        ("column", f => f.Column),
        ("value", f => f.Value),
        ("expected", f => f.Expected),
        ("message", f => f.Message),
        ("participant", f => f.Participant),
        ("site", f => f.Site),
        ("key", f => f.Key),
    ];

    internal static ArchiveFile Of(ImmutableArray<Finding> findings)
    {
        List<ArchiveColumn> columns = [.. Parts.Select(p => new Texts(p.Name, [.. findings.Select(p.Text)]))];
        columns.Insert(3, new WholeNumbers("line", [.. findings.Select(f => (long?)f.Line)]));
        return new ArchiveFile(columns, new Dictionary<string, string> { ["content"] = "findings of the checks, in order" });
    }

    /// <summary>The findings of a file.</summary>
    /// <exception cref="InvalidDataException">The file holds no findings.</exception>
    internal static ImmutableArray<Finding> Read(ArchiveFile file)
    {
        Dictionary<string, string?[]> texts = Parts.ToDictionary(
            p => p.Name, p => (file.Column(p.Name) as Texts ?? throw new InvalidDataException($"its column '{p.Name}' is missing")).Values);
        long?[] lines = (file.Column("line") as WholeNumbers ?? throw new InvalidDataException("its column 'line' is missing")).Values;
        return
        [
            .. Enumerable.Range(0, file.Rows).Select(r => new Finding(
                texts["rule"][r]!, Enum.Parse<Severity>(texts["severity"][r]!), texts["file"][r]!, checked((int)lines[r]!.Value),
                texts["column"][r], texts["value"][r], texts["expected"][r]!, texts["message"][r]!, texts["participant"][r], texts["site"][r])
            {
                Key = texts["key"][r],
            }),
        ];
    }
}
