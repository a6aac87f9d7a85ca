using System.Security.Cryptography;
using System.Text;

namespace RotationStudy.Study.Checks;

/// <summary>Gives findings their order and ids that stay from export to export.</summary>
/// <remarks>
/// An id depends on the rule, file, key and column of a finding and not on its line, so a question keeps its id when rows
/// move. Hips for the clinical team come first, then the findings by site, file, line and column; those without a site first.
/// </remarks>
internal static class QueryNumbers
{
    internal static IEnumerable<(Finding Finding, string Id)> Of(IEnumerable<Finding> findings)
    {
        Dictionary<string, int> seen = new(StringComparer.Ordinal);
        foreach (Finding finding in findings
            .OrderBy(f => f.Rule != CheckCatalog.HipFirst.Id)
            .ThenBy(f => f.Site, StringComparer.Ordinal)
            .ThenBy(f => f.File, StringComparer.Ordinal)
            .ThenBy(f => f.Line)
            .ThenBy(f => f.Column, StringComparer.Ordinal)
            .ThenBy(f => f.Rule, StringComparer.Ordinal))
        {
            string id = IdOf(finding);
            int repeats = seen[id] = seen.GetValueOrDefault(id) + 1;
            yield return (finding, repeats == 1 ? id : FormattableString.Invariant($"{id}-{repeats}"));
        }
    }

    private static string IdOf(Finding finding)
    {
        string identity = string.Join('\n', finding.Rule, finding.File, finding.Key ?? string.Empty, finding.Column ?? string.Empty);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(identity)))[..12];
    }
}
