using System.Collections.Immutable;
using System.Security.Cryptography;
using RotationStudy.Study.Protocol.Reading;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Protocol.Sealing;

/// <summary>Reads the seal of a protocol folder and compares the plan with it.</summary>
internal static class SealReader
{
    /// <summary>The seal with the deviations from it; null where the plan was never sealed, or after a fault.</summary>
    /// <param name="folder">Path of the protocol folder.</param>
    /// <param name="files">The files read so far; the seal is added.</param>
    /// <param name="faults">Where a damaged seal is reported.</param>
    internal static PlanSealFacts? Read(string folder, ImmutableArray<FileHash>.Builder files, FaultList faults)
    {
        string path = Path.Combine(folder, PlanSeal.FileName);
        if (!File.Exists(path))
            return null;
        byte[] bytes = File.ReadAllBytes(path);
        if (PlanSeal.Read(bytes) is not { } seal)
        {
            faults.Add(PlaceBook.TopOf(PlanSeal.FileName), "The file is no seal of a plan.", "Take the seal from where it was deposited; only the command 'seal' writes it.");
            return null;
        }
        if (!seal.IsWhole)
        {
            faults.Add(PlaceBook.TopOf(PlanSeal.FileName), "The seal was changed after it was made: its text does not give its hash.", "Take the seal from where it was deposited.");
            return null;
        }
        Dictionary<string, YamlMap> now = new(StringComparer.Ordinal);
        foreach (FileHash file in files)
        {
            if (YamlTree.Read(file.Name, File.ReadAllText(Path.Combine(folder, file.Name)), new FaultList()) is { } map)
                now.Add(file.Name, map);
        }
        files.Add(new FileHash(PlanSeal.FileName, Convert.ToHexStringLower(SHA256.HashData(bytes)), bytes.Length));
        return new PlanSealFacts(seal.Dated, seal.Sha256, PlanDeviations.Between(seal, now));
    }
}
