using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>What changed between two sets of checked records of one study, read by the same protocol.</summary>
/// <param name="Participants">Participants who were added, removed or changed, in order of identifier.</param>
/// <param name="Visits">Visits that came or went, by site.</param>
/// <param name="Rows">Rows that came, went or changed, by table and site.</param>
/// <param name="Values">Values that changed in rows that both have, by column and site.</param>
public sealed record DataChanges(
    ImmutableArray<ParticipantChange> Participants, ImmutableArray<VisitChange> Visits,
    ImmutableArray<RowChange> Rows, ImmutableArray<ValueChange> Values)
{
    /// <summary>Whether the records are the same.</summary>
    public bool None => Participants.IsEmpty && Rows.IsEmpty;
}

/// <summary>A participant whose records are not the same.</summary>
/// <param name="Participant">Identifier; empty for rows that name nobody.</param>
/// <param name="Site">Site; empty where unknown.</param>
/// <param name="What">added, removed or changed.</param>
/// <param name="RowsAdded">Rows that came.</param>
/// <param name="RowsRemoved">Rows that went.</param>
/// <param name="ValuesChanged">Values changed in rows that both have.</param>
public sealed record ParticipantChange(string Participant, string Site, string What, int RowsAdded, int RowsRemoved, int ValuesChanged)
{
    /// <summary>Only the new data have the participant.</summary>
    public const string Added = "added";

    /// <summary>Only the earlier data have the participant.</summary>
    public const string Removed = "removed";

    /// <summary>Both have the participant, with other records.</summary>
    public const string Changed = "changed";
}

/// <summary>Visits at a site.</summary>
/// <param name="Site">Site.</param>
/// <param name="Visit">Visit.</param>
/// <param name="Added">Participants who have it now and had it not.</param>
/// <param name="Removed">Participants who had it and have it no longer.</param>
public sealed record VisitChange(string Site, string Visit, int Added, int Removed);

/// <summary>Rows of a table at a site.</summary>
/// <param name="Table">Table.</param>
/// <param name="Site">Site.</param>
/// <param name="Added">Rows that came.</param>
/// <param name="Removed">Rows that went.</param>
/// <param name="Changed">Rows that both have, with another value.</param>
public sealed record RowChange(string Table, string Site, int Added, int Removed, int Changed);

/// <summary>Values of a column at a site, in rows that both have.</summary>
/// <param name="Table">Table.</param>
/// <param name="Column">Column.</param>
/// <param name="Site">Site.</param>
/// <param name="Changed">Values that are others.</param>
/// <param name="FilledIn">Values that were missing.</param>
/// <param name="Emptied">Values that are missing now, or missing for another reason.</param>
public sealed record ValueChange(string Table, string Column, string Site, int Changed, int FilledIn, int Emptied);

/// <summary>Findings that opened and closed.</summary>
/// <param name="Remaining">Number of findings that both have.</param>
/// <param name="Rules">Counts by rule and site.</param>
/// <param name="Opened">Findings that only the new data have.</param>
/// <param name="Closed">Findings that only the earlier data have.</param>
public sealed record FindingChanges(
    int Remaining, ImmutableArray<FindingCount> Rules, ImmutableArray<FindingPlace> Opened, ImmutableArray<FindingPlace> Closed);

/// <summary>Findings of a rule at a site.</summary>
/// <param name="Rule">Id of the rule.</param>
/// <param name="Site">Site.</param>
/// <param name="Opened">Findings that opened.</param>
/// <param name="Closed">Findings that closed.</param>
public sealed record FindingCount(string Rule, string Site, int Opened, int Closed);

/// <summary>A finding by what does not depend on lines.</summary>
/// <param name="Rule">Id of the rule.</param>
/// <param name="Severity">What it does, in words.</param>
/// <param name="Site">Site.</param>
/// <param name="Participant">Identifier; empty for none.</param>
/// <param name="File">File.</param>
/// <param name="Column">Column; empty for the row.</param>
/// <param name="Message">The sentence for the site.</param>
public sealed record FindingPlace(string Rule, string Severity, string Site, string Participant, string File, string Column, string Message);

/// <summary>How an estimate moved, and because of whom.</summary>
/// <param name="Id">Id of the estimate.</param>
/// <param name="Label">What it is of.</param>
/// <param name="Before">Estimate of the earlier data; null when there was none.</param>
/// <param name="After">Estimate of the new data; null when there is none.</param>
/// <param name="Shift">After minus before on the scale of the model; null without both.</param>
/// <param name="ShiftInStandardErrors">The same in standard errors of the earlier estimate; null without one.</param>
/// <param name="ConclusionBefore">What the earlier interval says, in words.</param>
/// <param name="ConclusionAfter">What the new interval says, in words.</param>
/// <param name="Steps">The shift in steps: removed, changed and added participants, each fitted on top of the steps before; empty where it was not taken apart.</param>
/// <param name="SumHolds">Whether the steps add up to the shift and begin and end at the two estimates; null where it was not taken apart.</param>
/// <param name="Persons">Participants by how far each alone moves the earlier estimate, the furthest first; empty where they are too many.</param>
public sealed record ResultShift(
    string Id, string Label, EstimateRow? Before, EstimateRow? After, double? Shift, double? ShiftInStandardErrors,
    string ConclusionBefore, string ConclusionAfter, ImmutableArray<ShiftStep> Steps, bool? SumHolds, ImmutableArray<ShiftOfPerson> Persons)
{
    /// <summary>Whether it is the planned estimate of an exposure or interaction: what the study is about. Terms adjusted for are no conclusions.</summary>
    public bool IsPlanned { get; init; }

    /// <summary>Whether the conclusion is another one.</summary>
    public bool ConclusionChanged => ConclusionBefore != ConclusionAfter;

    /// <summary>Whether any digit of the estimate, its interval or p value is another one.</summary>
    public bool Moved => Before is null != After is null
        || (Before is not null && (Before.Value, Before.Lower, Before.Upper, Before.PValue) != (After!.Value, After.Lower, After.Upper, After.PValue));
}

/// <summary>A step of a shift.</summary>
/// <param name="Because">removed, changed or added.</param>
/// <param name="Participants">Participants of the step in the data; they need not all be in this analysis.</param>
/// <param name="Estimate">Estimate after the step, on the scale of the result; null where it cannot be fitted.</param>
/// <param name="Shift">Shift of the step on the scale of the model; null where it cannot be fitted.</param>
/// <param name="OrderAveraged">The same averaged over every order of the steps, which no order decides; null where one of them cannot be fitted.</param>
public sealed record ShiftStep(string Because, int Participants, double? Estimate, double? Shift, double? OrderAveraged);

/// <summary>How far one participant alone moves the earlier estimate.</summary>
/// <param name="Participant">Identifier.</param>
/// <param name="Site">Site.</param>
/// <param name="Because">removed, changed or added.</param>
/// <param name="Shift">Shift on the scale of the model; null where it cannot be fitted.</param>
public sealed record ShiftOfPerson(string Participant, string Site, string Because, double? Shift);
