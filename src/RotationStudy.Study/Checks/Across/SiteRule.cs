using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Across;

/// <summary>Notes that all participants come from one site although there should be several.</summary>
internal static class SiteRule
{
    internal static void Apply(TableDraft roster, StudyDescription study, FindingList findings)
    {
        if (study.Sites.Length < 2 || roster.Column(ColumnRole.Site) is not { } site)
            return;
        int[] found = [.. roster.Order.Where(row => site[row].HasValue).Select(row => site[row].Code).Distinct()];
        if (found.Length == 1)
        {
            findings.Add(CheckCatalog.OneSite.InFile(
                roster.Definition.File, $"{study.Sites.Length} sites",
                $"All participants come from {study.Sites[found[0]].Label}. The study goes on; sites cannot be compared."));
        }
    }
}
