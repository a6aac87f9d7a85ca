using System.Collections.Immutable;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Withdrawal;

/// <summary>What a withdrawal leaves behind: how many, and never who.</summary>
internal static class WithdrawalCount
{
    /// <summary>The finding that takes the place of those withdrawn.</summary>
    /// <param name="file">File of the participants.</param>
    /// <param name="participants">How many were removed.</param>
    /// <param name="rows">With how many rows.</param>
    /// <param name="nowhere">Places of the list whose identifier occurs nowhere.</param>
    internal static Finding Of(string file, int participants, int rows, ImmutableArray<string> nowhere)
    {
        string removed = $"{Count(participants, "participant", "participants")} who withdrew consent {(participants == 1 ? "was" : "were")} removed with {Count(rows, "row", "rows")} before anything else was looked at.";
        string unknown = nowhere.IsEmpty ? string.Empty
            : $" {Count(nowhere.Length, "identifier", "identifiers")} of the list ({Listing.Few(nowhere)}) {(nowhere.Length == 1 ? "occurs" : "occur")} nowhere here; please see that {(nowhere.Length == 1 ? "it is" : "they are")} written right.";
        return CheckCatalog.ConsentWithdrawn.InFile(file, "no rows of those who withdrew", removed + unknown);
    }

    /// <summary>An account of rows after some of those used were removed.</summary>
    internal static RowAccount Without(RowAccount account, int rows)
    {
        if (rows == 0)
            return account;
        int before = account.SetAside.FirstOrDefault(s => s.Rule == CheckCatalog.ConsentWithdrawn.Id)?.Rows ?? 0;
        IEnumerable<RuleCount> others = account.SetAside.Where(s => s.Rule != CheckCatalog.ConsentWithdrawn.Id);
        return account with
        {
            Used = account.Used - rows,
            SetAside = [.. others.Append(new RuleCount(CheckCatalog.ConsentWithdrawn.Id, before + rows)).OrderBy(s => s.Rule, StringComparer.Ordinal)],
        };
    }

    /// <summary>Findings without those about the persons of the list; where others mention one, the identifier is replaced.</summary>
    internal static IEnumerable<Finding> Without(IEnumerable<Finding> findings, WithdrawnIds ids)
        => ids.Count == 0
            ? findings
            : findings.Where(f => f.Severity == Severity.Stop || f.Participant is null || ids.Find(f.Participant) is null).Select(f => f with
            {
                File = ids.Without(f.File)!,
                Column = ids.Without(f.Column),
                Value = ids.Without(f.Value),
                Expected = ids.Without(f.Expected)!,
                Message = ids.Without(f.Message)!,
                Participant = f.Participant is null || ids.Find(f.Participant) is not null ? null : f.Participant,
                Key = ids.Without(f.Key),
            });

    private static string Count(int n, string one, string many) => FormattableString.Invariant($"{n} {(n == 1 ? one : many)}");
}
