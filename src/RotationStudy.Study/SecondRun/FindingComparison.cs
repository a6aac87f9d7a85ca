using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.SecondRun;

/// <summary>Which findings opened and which closed. A finding is known by rule, file, key and column, so that moved lines change nothing.</summary>
public static class FindingComparison
{
    /// <summary>Compares the findings of two exports.</summary>
    /// <param name="before">The earlier findings.</param>
    /// <param name="after">The new findings.</param>
    public static FindingChanges Compare(ImmutableArray<Finding> before, ImmutableArray<Finding> after)
    {
        List<Finding> closed = Without(before, after), opened = Without(after, before);
        return new FindingChanges(
            before.Length - closed.Count,
            [
                .. opened.Select(f => (Finding: f, Opened: true)).Concat(closed.Select(f => (Finding: f, Opened: false)))
                    .GroupBy(f => (f.Finding.Rule, Site: f.Finding.Site ?? string.Empty))
                    .OrderBy(g => g.Key.Rule, StringComparer.Ordinal).ThenBy(g => g.Key.Site, StringComparer.Ordinal)
                    .Select(g => new FindingCount(g.Key.Rule, g.Key.Site, g.Count(f => f.Opened), g.Count(f => !f.Opened))),
            ],
            [.. opened.Select(Place)],
            [.. closed.Select(Place)]);
    }

    /// <summary>The findings that the others lack; of equal ones as many as there are more.</summary>
    private static List<Finding> Without(ImmutableArray<Finding> findings, ImmutableArray<Finding> others)
    {
        Dictionary<string, int> there = [];
        foreach (Finding other in others)
            there[Identity(other)] = there.GetValueOrDefault(Identity(other)) + 1;
        List<Finding> left = [];
        foreach (Finding finding in findings)
        {
            string identity = Identity(finding);
            if (there.GetValueOrDefault(identity) > 0)
                there[identity]--;
            else
                left.Add(finding);
        }
        return left;
    }

    private static string Identity(Finding finding)
        => string.Join('\n', finding.Rule, finding.File, finding.Key ?? string.Empty, finding.Column ?? string.Empty);

    private static FindingPlace Place(Finding finding) => new(
        finding.Rule, QueryList.Words(finding.Severity), finding.Site ?? string.Empty, finding.Participant ?? string.Empty,
        finding.File, finding.Column ?? string.Empty, finding.Message);
}
