using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using RotationStudy.Study.Protocol.Reading;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Protocol;

/// <summary>A protocol folder as read: everything about the study that is not code.</summary>
/// <param name="Study">study.yaml: who, where, when, in which words.</param>
/// <param name="Tables">tables.yaml: what an export may hold.</param>
/// <param name="Measures">measures.yaml: what is derived, with the options chosen.</param>
/// <param name="Plan">plan.yaml: the numbered questions.</param>
/// <param name="Figures">figures.yaml: the figures wanted.</param>
/// <param name="Files">The files read, in ordinal order of name, with the SHA-256 of their bytes in lower-case hexadecimal.</param>
public sealed record StudyProtocol(
    StudyDescription Study,
    ImmutableArray<TableDefinition> Tables,
    ImmutableArray<MeasureDefinition> Measures,
    AnalysisPlan Plan,
    ImmutableArray<FigureDefinition> Figures,
    ImmutableArray<FileHash> Files)
{
    /// <summary>checks.yaml: checks of this study beside those that every study has; empty without that file.</summary>
    public ImmutableArray<CheckDefinition> Checks { get; init; } = [];

    /// <summary>deidentification.yaml: which combinations must be shared by how many; null without that file.</summary>
    public Deidentification? Deidentification { get; init; }

    /// <summary>norms/*.yaml: published norms, in ordinal order of file name.</summary>
    public ImmutableArray<Norm> Norms { get; init; } = [];

    /// <summary>mappings/*.yaml: how files of sites that write their own become tables of the protocol.</summary>
    public ImmutableArray<SiteMapping> Mappings { get; init; } = [];

    /// <summary>prediction.yaml: models to develop and published scores to apply; null without that file.</summary>
    public PredictionPlan? Prediction { get; init; }

    /// <summary>sites.yaml: which questions are also answered by site; null without that file.</summary>
    public SitePlan? Sites { get; init; }

    /// <summary>planning.yaml: what the study is to be able to find; null without that file.</summary>
    public SizePlan? Size { get; init; }

    /// <summary>measures.yaml: columns whose values depend on a method.</summary>
    public ImmutableArray<MethodDistinction> Methods { get; init; } = [];

    /// <summary>seal.json: the sealed plan and what this one says differently; null where the plan was never sealed.</summary>
    public PlanSealFacts? Seal { get; init; }

    /// <summary>Where each value was written.</summary>
    internal PlaceBook? Places { get; init; }

    /// <summary>Where a value of an owner stands, such as "exposures[0].measure" of a question; the owner's own place when it was not written.</summary>
    public Place PlaceOf(Place owner, string path) => Places?.Of(owner, path) ?? owner;

    /// <summary>The table of that name.</summary>
    /// <exception cref="KeyNotFoundException">No table has that name.</exception>
    public TableDefinition Table(string name)
        => Tables.FirstOrDefault(t => t.Name == name) ?? throw new KeyNotFoundException($"No table is called '{name}'.");

    /// <summary>The norm of that id.</summary>
    /// <exception cref="KeyNotFoundException">No norm has that id.</exception>
    public Norm Norm(string id)
        => Norms.FirstOrDefault(n => n.Id == id) ?? throw new KeyNotFoundException($"No norm is called '{id}'.");

    /// <summary>The measure of that id.</summary>
    /// <exception cref="KeyNotFoundException">No measure has that id.</exception>
    public MeasureDefinition Measure(string id)
        => Measures.FirstOrDefault(m => m.Id == id) ?? throw new KeyNotFoundException($"No measure is called '{id}'.");
}

/// <summary>A file and what it held.</summary>
/// <param name="Name">Name relative to its folder, forward slashes.</param>
/// <param name="Sha256">SHA-256 of the bytes, lower-case hexadecimal.</param>
/// <param name="Bytes">Length in bytes.</param>
public sealed record FileHash(string Name, string Sha256, long Bytes)
{
    /// <summary>One hash over several files: of a line "hash, two spaces, name" for each, in ordinal order of name.</summary>
    internal static string OfAll(ImmutableArray<FileHash> files)
    {
        StringBuilder text = new();
        foreach (FileHash file in files.OrderBy(f => f.Name, StringComparer.Ordinal))
            text.Append(file.Sha256).Append("  ").Append(file.Name).Append('\n');
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }
}
