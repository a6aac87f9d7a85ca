using System.Collections.Immutable;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Protocol;

/// <summary>A check of an export that the study declares in checks.yaml, beside the rules that every study has.</summary>
/// <param name="Id">Id of the check; findings carry it as their rule.</param>
/// <param name="Label">What a finding means, a few words; the reason of a row that is left out.</param>
/// <param name="Severity">What a finding does. Set aside means the whole row.</param>
/// <param name="Table">The table whose rows are looked at.</param>
/// <param name="Says">A sentence that the site can act on.</param>
/// <param name="Source">Where the limits come from, or "common practice, no source".</param>
/// <param name="Place">Where it is declared.</param>
public abstract record CheckDefinition(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place)
{
    /// <summary>The kind as checks.yaml writes it.</summary>
    public abstract string Kind { get; }
}

/// <summary>Rows of a table whose code column holds one of some codes.</summary>
/// <param name="Column">Code column.</param>
/// <param name="Codes">Codes.</param>
public sealed record RowCondition(string Column, ImmutableArray<string> Codes);

/// <summary>Too many readings of one rater end on a round number.</summary>
/// <remarks>Readings to one unit end on a multiple of k once in k times when nobody rounds; the p value is that share's binomial upper tail.</remarks>
public sealed record LastDigitCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    ImmutableArray<string> Columns, string By, int MultipleOf, double MoreThan, double BelowP, int AtLeast)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "last_digit";
}

/// <summary>A column must have a value, or one of some codes, in rows under a condition.</summary>
public sealed record RequiredIfCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    RowCondition When, string Column, ImmutableArray<string> Codes)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "required_if";
}

/// <summary>A number lies within limits in rows under a condition.</summary>
public sealed record RangeIfCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    RowCondition When, string Column, ValueRange Limits)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "range_if";
}

/// <summary>How two columns are combined.</summary>
public enum PairCombination
{
    /// <summary>First plus second.</summary>
    Sum,

    /// <summary>First minus second: with a lowest of 0 the first may not lie below the second.</summary>
    Difference,

    /// <summary>First over the square of the second.</summary>
    OverSquare,
}

/// <summary>Two columns of a row, combined, lie within limits.</summary>
public sealed record PairRangeCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    PairCombination Combination, string First, string Second, ValueRange Limits)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "pair_range";
}

/// <summary>A score that the site states equals the number of its components that are fulfilled.</summary>
public sealed record StatedScoreCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    string Column, ImmutableArray<ScoreComponent> Components)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "stated_score";
}

/// <summary>All listed columns are equal on both sides to the digit: copied?</summary>
public sealed record EqualSidesCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    ImmutableArray<string> Columns, int AtLeast)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "equal_sides";
}

/// <summary>Which change is looked at.</summary>
public enum ChangeDirection
{
    /// <summary>Up or down.</summary>
    Either,

    /// <summary>Downwards only.</summary>
    Falls,

    /// <summary>Upwards only.</summary>
    Rises,
}

/// <summary>A value that moves by more than a limit from one row to the next of the same person, side and rater.</summary>
/// <remarks>Rows follow each other by <c>OrderBy</c>, else by visit, else by day. With <c>WithinDays</c> only rows that near each other are compared.</remarks>
public sealed record ChangeCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    string Column, ChangeDirection Direction, double AtMost, int? WithinDays, string? OrderBy, ImmutableArray<string> Same)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "change";
}

/// <summary>Each row needs a row of another table, or of the other side.</summary>
public sealed record PartnerCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    RowCondition? When, string Other, RowCondition? OtherWhen, ImmutableArray<ColumnRole> Match, bool OtherSide)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "partner";
}

/// <summary>Something happens only after something else: a milestone after the operation, one milestone after another.</summary>
public sealed record EventOrderCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    RowCondition? When, string Earlier, RowCondition? EarlierWhen, ImmutableArray<ColumnRole> Match, bool Required)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "event_order";
}

/// <summary>Two raters of the same thing differ by more than a limit.</summary>
public sealed record RaterDifferenceCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    string Column, double AtMost)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "rater_difference";
}

/// <summary>The same content under another key: all rows of a person and visit repeat those of another.</summary>
public sealed record RepeatedContentCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    ImmutableArray<string> Columns, int AtLeast)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "repeated_content";
}

/// <summary>A row far from the rest of its age band, by a robust distance.</summary>
/// <remarks>One column: distance from the median over the median absolute deviation. Several: distance under a covariance of the innermost three quarters of rows.</remarks>
public sealed record OutlierCheck(
    string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place,
    ImmutableArray<string> Columns, string? AgeColumn, ImmutableArray<double> AgeCutPoints, double BelowP, int AtLeast)
    : CheckDefinition(Id, Label, Severity, Table, Says, Source, Place)
{
    /// <inheritdoc/>
    public override string Kind => "outlier";
}
