using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Checks;

/// <summary>What ingest hands on: rows that may be used, findings, and an account of every row read.</summary>
/// <param name="Tables">One table per declared table, in declared order; a table without a file has no rows.</param>
/// <param name="Findings">All findings, in order of file, line, column, rule.</param>
/// <param name="Accounts">One account per export file.</param>
/// <param name="Files">The export files read, with their hashes.</param>
public sealed record CheckedRecords(
    ImmutableArray<RecordTable> Tables,
    ImmutableArray<Finding> Findings,
    ImmutableArray<RowAccount> Accounts,
    ImmutableArray<FileHash> Files)
{
    /// <summary>Participants who withdrew consent and were removed before anything was looked at.</summary>
    public int Withdrawn { get; init; }

    /// <summary>The table of that name.</summary>
    /// <exception cref="KeyNotFoundException">The protocol declares no such table.</exception>
    public RecordTable this[string table]
        => Tables.FirstOrDefault(t => t.Definition.Name == table) ?? throw new KeyNotFoundException($"No table is called '{table}'.");

    /// <summary>Whether a finding of severity Stop forbids to go on.</summary>
    public bool MustStop => Findings.Any(f => f.Severity == Severity.Stop);
}

/// <summary>What became of the rows of one file: read = used + the sum of those set aside.</summary>
/// <param name="File">File name.</param>
/// <param name="Table">Table name.</param>
/// <param name="Read">Rows read, without the header.</param>
/// <param name="Used">Rows kept.</param>
/// <param name="SetAside">Rows left out, by rule, in ordinal order of the rule.</param>
public sealed record RowAccount(string File, string Table, int Read, int Used, ImmutableArray<RuleCount> SetAside)
{
    /// <summary>Whether the sums agree; checked at run time and printed in the report.</summary>
    public bool Balances => Read == Used + SetAside.Sum(s => s.Rows);
}

/// <summary>A count of rows for a rule.</summary>
/// <param name="Rule">Id of the rule.</param>
/// <param name="Rows">Rows.</param>
public sealed record RuleCount(string Rule, int Rows);
