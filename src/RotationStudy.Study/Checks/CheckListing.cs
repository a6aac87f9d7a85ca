using System.Collections.Immutable;
using System.Text;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks;

/// <summary>All checks of a study in one table: those that every study has and those that it declares.</summary>
public static class CheckListing
{
    /// <summary>The checks in ordinal order of id, those of every study first.</summary>
    /// <param name="protocol">The study.</param>
    public static ImmutableArray<CheckLine> Of(StudyProtocol protocol) =>
    [
        .. CheckCatalog.All.Select(r => new CheckLine(r.Id, "every study", string.Empty, QueryList.Words(r.Severity), r.Reason, r.Explanation, string.Empty)),
        .. protocol.Checks.OrderBy(c => c.Id, StringComparer.Ordinal)
            .Select(c => new CheckLine(c.Id, c.Kind, c.Table, QueryList.Words(c.Severity), c.Label, c.Says, c.Source)),
    ];

    /// <summary>The same as a page in Markdown.</summary>
    /// <param name="protocol">The study.</param>
    public static string Page(StudyProtocol protocol)
    {
        StringBuilder page = new();
        page.Append(
            $"""
            # Checks

            Every export is checked by the rules of every study and by those that its protocol declares in `checks.yaml`
            (here: {protocol.Study.Id}). What a finding does: "must be solved first" stops the run, "left out" sets the row or value
            aside, "please answer" is used and asked about, "for information" is worth knowing. `rotationstudy protocol <folder>` prints
            this table for any protocol; `docs/planted-faults.md` shows how much damage the checks find.

            ## Rules of every study

            | id | what a finding does | what it means | what is looked at |
            | --- | --- | --- | --- |

            """);
        ImmutableArray<CheckLine> lines = Of(protocol);
        foreach (CheckLine line in lines.Where(l => l.Table.Length == 0))
            page.Append($"| {line.Id} | {line.Does} | {line.Label} | {line.Says} |\n");
        page.Append(
            """

            ## Declared checks

            | id | kind | table | what a finding does | what it means | what the site reads | source |
            | --- | --- | --- | --- | --- | --- | --- |

            """);
        foreach (CheckLine line in lines.Where(l => l.Table.Length > 0))
            page.Append($"| {line.Id} | {line.Kind} | {line.Table} | {line.Does} | {line.Label} | {line.Says} | {line.Source} |\n");
        return page.Append('\n').Append(Kinds).ToString();
    }

    private const string Kinds =
        """
        ## Kinds

        Each check has id, kind, label, severity, table, says and source, and the keys of its kind.

        | kind | keys | asks about |
        | --- | --- | --- |
        | last_digit | columns, by, multiple_of, more_than, below_p, at_least | raters with more than a share of readings on a multiple, by a binomial upper tail |
        | required_if | when, column, codes (optional) | rows under a condition without a value, or with another code |
        | range_if | when, column, limits | rows under a condition with a number outside limits |
        | pair_range | combination (sum, difference, over_square), first, second, limits | two columns that together cannot be |
        | stated_score | column, components | a score that is not the count of its fulfilled components |
        | equal_sides | columns, at_least | left equal to right to the digit in all columns |
        | change | column, direction, at_most, within_days, order_by, same | a value that moves too far, or the wrong way |
        | partner | when, other, other_when, match, other_side | a row without the row that belongs to it |
        | event_order | when, earlier, earlier_when, match, required | something dated before what it follows |
        | rater_difference | column, at_most | two raters far apart |
        | repeated_content | columns, at_least | the same content under another person or visit |
        | outlier | columns, age_column, age_cut_points, below_p, at_least | rows far from their age band by a robust distance |

        """;
}

/// <summary>One check in words.</summary>
/// <param name="Id">Id.</param>
/// <param name="Kind">Kind as checks.yaml writes it; "every study" for a built-in rule.</param>
/// <param name="Table">Table it looks at; empty for a built-in rule.</param>
/// <param name="Does">What a finding does.</param>
/// <param name="Label">What a finding means.</param>
/// <param name="Says">What is looked at; for a declared check, what the site reads.</param>
/// <param name="Source">Source of its limits; empty for a built-in rule.</param>
public sealed record CheckLine(string Id, string Kind, string Table, string Does, string Label, string Says, string Source);
