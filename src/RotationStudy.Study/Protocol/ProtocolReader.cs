using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using RotationStudy.Study.Protocol.Reading;
using RotationStudy.Study.Protocol.Rules;
using RotationStudy.Study.Protocol.Sealing;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Protocol;

/// <summary>Reads a protocol folder strictly: whatever is unknown, missing, repeated, of the wrong type or names nothing is a fault.</summary>
/// <remarks>
/// Five YAML files: study.yaml, tables.yaml, measures.yaml, plan.yaml and figures.yaml, and checks.yaml where the study
/// declares checks of its own, norms/*.yaml where it reads values against norms, and mappings/*.yaml for sites that send files of
/// their own form. Keys are the snake case of the
/// parameters of the records of this namespace. Faults of all files are gathered before any is thrown, and each points at
/// file, line and column and offers the nearest valid name.
/// </remarks>
public static class ProtocolReader
{
    private const string StudyFile = "study.yaml";
    private const string TablesFile = "tables.yaml";
    private const string MeasuresFile = "measures.yaml";
    private const string PlanFile = "plan.yaml";
    private const string FiguresFile = "figures.yaml";

    private const string ChecksFile = "checks.yaml";
    private const string DeidentificationFile = "deidentification.yaml";

    private static readonly string[] Names = [FiguresFile, MeasuresFile, PlanFile, StudyFile, TablesFile];

    /// <summary>Reads and checks the folder.</summary>
    /// <param name="folder">Path of the protocol folder.</param>
    /// <exception cref="DirectoryNotFoundException">There is no such folder.</exception>
    /// <exception cref="IOException">A file cannot be read.</exception>
    /// <exception cref="ProtocolError">The protocol has faults; it holds all of them.</exception>
    public static StudyProtocol Read(string folder)
    {
        if (!Directory.Exists(folder))
            throw new DirectoryNotFoundException($"There is no protocol folder '{folder}'.");
        ReadingContext context = new(new FaultList(), new PlaceBook());
        ImmutableArray<FileHash>.Builder files = ImmutableArray.CreateBuilder<FileHash>();
        Dictionary<string, YamlSection> tops = [];
        foreach (string name in Names)
        {
            if (Load(folder, name, files, context) is { } top)
                tops.Add(name, top);
        }
        YamlSection? checks = File.Exists(Path.Combine(folder, ChecksFile)) ? Load(folder, ChecksFile, files, context) : null;
        YamlSection? alike = File.Exists(Path.Combine(folder, DeidentificationFile)) ? Load(folder, DeidentificationFile, files, context) : null;
        YamlSection? size = File.Exists(Path.Combine(folder, SizePlanReader.File)) ? Load(folder, SizePlanReader.File, files, context) : null;
        YamlSection? prediction = File.Exists(Path.Combine(folder, PredictionReader.File)) ? Load(folder, PredictionReader.File, files, context) : null;
        YamlSection? sites = File.Exists(Path.Combine(folder, SitesReader.File)) ? Load(folder, SitesReader.File, files, context) : null;
        ImmutableArray<Norm> norms = LoadNorms(folder, files, context);
        ImmutableArray<SiteMapping> mappings = LoadMappings(folder, files, context);
        PlanSealFacts? seal = SealReader.Read(folder, files, context.Faults);
        ReportStrangers(folder, context.Faults);
        if (tops.Count < Names.Length)
            context.Faults.ThrowIfAny();

        StudyDescription study = StudyReader.Read(tops[StudyFile]);
        ImmutableArray<TableDefinition> tables = TablesReader.Read(tops[TablesFile], study);
        StudyProtocol protocol = new(
            study,
            tables,
            MeasuresReader.Read(tops[MeasuresFile], context.UnreadMeasures, out ImmutableArray<MethodDistinction> methods),
            PlanReader.Read(tops[PlanFile]),
            FiguresReader.Read(tops[FiguresFile]),
            [.. files.OrderBy(f => f.Name, StringComparer.Ordinal)])
        {
            Checks = checks is null ? [] : ChecksReader.Read(checks),
            Norms = norms,
            Deidentification = alike is null ? null : DeidentificationReader.Read(alike, tables),
            Mappings = mappings,
            Size = size is null ? null : SizePlanReader.Read(size),
            Prediction = prediction is null ? null : PredictionReader.Read(prediction),
            Sites = sites is null ? null : SitesReader.Read(sites),
            Methods = methods,
            Seal = seal,
            Places = context.Places,
        };
        ProtocolRules.Check(protocol, context);
        context.Faults.ThrowIfAny();
        return protocol;
    }

    private static ImmutableArray<Norm> LoadNorms(string folder, ImmutableArray<FileHash>.Builder files, ReadingContext context)
        => [.. NormsReader.FilesOf(folder)
            .Select(name => Load(folder, name, files, context) is { } top ? NormsReader.Read(top, name) : null).OfType<Norm>()];

    private static ImmutableArray<SiteMapping> LoadMappings(string folder, ImmutableArray<FileHash>.Builder files, ReadingContext context)
        => [.. MappingsReader.FilesOf(folder)
            .Select(name => Load(folder, name, files, context) is { } top ? MappingsReader.Read(top, name) : null).OfType<SiteMapping>()];

    private static YamlSection? Load(string folder, string name, ImmutableArray<FileHash>.Builder files, ReadingContext context)
    {
        string path = Path.Combine(folder, name);
        if (!File.Exists(path))
        {
            context.Faults.Add(
                PlaceBook.TopOf(name), "The file is missing.",
                $"A protocol folder holds {NearestName.List(Names.Order(StringComparer.Ordinal))}.");
            return null;
        }
        byte[] bytes = File.ReadAllBytes(path);
        files.Add(new FileHash(name, Convert.ToHexStringLower(SHA256.HashData(bytes)), bytes.Length));
        return Decode(bytes, name, context.Faults) is { } text && YamlTree.Read(name, text, context.Faults) is { } map
            ? YamlSection.Top(map, name, context)
            : null;
    }

    private static string? Decode(byte[] bytes, string name, FaultList faults)
    {
        try
        {
            string text = new UTF8Encoding(false, true).GetString(bytes);
            return text.StartsWith('\uFEFF') ? text[1..] : text;
        }
        catch (DecoderFallbackException e)
        {
            int line = 1 + bytes.AsSpan(0, Math.Max(e.Index, 0)).Count((byte)'\n');
            faults.Add(new Place(name, line, 1), "The file is not UTF-8 text.", "Save it as UTF-8.");
            return null;
        }
    }

    /// <summary>A misspelt file name would otherwise be a silence.</summary>
    private static void ReportStrangers(string folder, FaultList faults)
    {
        foreach (string path in Directory.EnumerateFiles(folder).Order(StringComparer.Ordinal))
        {
            string name = Path.GetFileName(path);
            if (Path.GetExtension(name) is ".yaml" or ".yml" && name is not (ChecksFile or DeidentificationFile or SitesReader.File or SizePlanReader.File or PredictionReader.File) && !Names.Contains(name, StringComparer.Ordinal))
                faults.Add(PlaceBook.TopOf(name), "The file is no part of a protocol.", NearestName.Hint(name, [.. Names, ChecksFile, DeidentificationFile, SitesReader.File, SizePlanReader.File, PredictionReader.File]));
        }
    }
}
