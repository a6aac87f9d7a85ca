using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Archive;

/// <summary>The parts of a protocol that decide what is in checked records: tables, visits and sites, checks, mappings, the hip gate.</summary>
/// <remarks>Measures, questions, figures and norms come later, so a revised plan may use an archive; a revised table may not.</remarks>
internal static class RecordShape
{
    private const string HipGatePart = "plan.yaml, hip_gate";

    internal static ImmutableArray<FileHash> Of(StudyProtocol protocol)
    {
        string gate = protocol.Plan.HipGate is { } g
            ? string.Join('\n', [g.Table, g.Column, g.Level.ToString(), g.Cleared ?? string.Empty, g.Reason, .. g.ClearCodes])
            : string.Empty;
        byte[] bytes = Encoding.UTF8.GetBytes(gate);
        return
        [
            .. protocol.Files.Where(f => f.Name is "study.yaml" or "tables.yaml" or "checks.yaml" or "deidentification.yaml"
                || f.Name.StartsWith("mappings/", StringComparison.Ordinal)),
            new FileHash(HipGatePart, Convert.ToHexStringLower(SHA256.HashData(bytes)), bytes.Length),
        ];
    }

    /// <summary>The parts in which two shapes differ, in ordinal order.</summary>
    internal static ImmutableArray<string> Differences(ImmutableArray<FileHash> one, ImmutableArray<FileHash> other)
        => [.. one.Except(other).Concat(other.Except(one)).Select(f => f.Name).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
}
