namespace RotationStudy.Study.Checks;

/// <summary>What became of a query since the list before.</summary>
public enum QueryStatus
{
    /// <summary>Not in the list before.</summary>
    New,

    /// <summary>In the list before, and nothing about it is different.</summary>
    Open,

    /// <summary>In the list before; the value or what is said of it is different now and still to be answered.</summary>
    Changed,

    /// <summary>In the list before and not found any more.</summary>
    Answered,
}

/// <summary>One line of a query list.</summary>
/// <param name="Id">Stable id.</param>
/// <param name="Site">Site it goes to; null where it is about no one site.</param>
/// <param name="Severity">What the finding does, in words for a site.</param>
/// <param name="Rule">Id of the rule.</param>
/// <param name="File">File of the export.</param>
/// <param name="Line">Line of the file, from 1; null for the whole file, and for a query that was answered.</param>
/// <param name="Column">Column.</param>
/// <param name="Participant">Participant.</param>
/// <param name="Value">Value as the export writes it.</param>
/// <param name="Expected">What was expected.</param>
/// <param name="Message">What the site is asked.</param>
/// <param name="Status">What became of it since the list before.</param>
public sealed record Query(
    string Id, string? Site, string Severity, string Rule, string File, int? Line, string? Column, string? Participant,
    string? Value, string Expected, string Message, QueryStatus Status);
