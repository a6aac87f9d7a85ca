using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>The study itself: design, sites, visits, words and cautions.</summary>
/// <param name="Id">Short name of the study, the same as the folder's.</param>
/// <param name="Title">Title of the report.</param>
/// <param name="Purpose">What the study wants to know, a sentence or two.</param>
/// <param name="Design">Design in words, such as "prospective cohort".</param>
/// <param name="Source">Where the data come from: an invented scenario, or a publication.</param>
/// <param name="Version">Version of the protocol.</param>
/// <param name="ParticipantWords">What a participant is called.</param>
/// <param name="UnitWords">What a side of a participant is called (knee, knees); null where a participant has one unit only.</param>
/// <param name="Eligibility">Who may take part, a sentence each.</param>
/// <param name="Sites">Site codes; empty where the exports name no site.</param>
/// <param name="Visits">The visit schedule; empty where exports hold no scheduled visits.</param>
/// <param name="Seed">The one seed of the study; every use draws from a stream named after it.</param>
/// <param name="SmallestPrintedCount">Counts of people from 1 to one below this are hidden in published tables; 1 hides nothing.</param>
/// <param name="Cautions">Sentences printed with every report.</param>
public sealed record StudyDescription(
    string Id,
    string Title,
    string Purpose,
    string Design,
    string Source,
    string Version,
    Words ParticipantWords,
    Words? UnitWords,
    ImmutableArray<string> Eligibility,
    ImmutableArray<SiteDefinition> Sites,
    ImmutableArray<VisitDefinition> Visits,
    int Seed,
    int SmallestPrintedCount,
    ImmutableArray<string> Cautions)
{
    /// <summary>The log of everybody who was asked or looked at; null where none is kept.</summary>
    public ScreeningLog? Screening { get; init; }

    /// <summary>How the follow-up of a participant ended; null where exports do not say.</summary>
    public FollowUpEnd? FollowUpEnd { get; init; }
}

/// <summary>The log of screening, a row per person looked at, without a participant identifier.</summary>
/// <param name="Table">Table of the log.</param>
/// <param name="Column">Code column that says what became of it.</param>
/// <param name="EnrolledCodes">Codes of those who were enrolled.</param>
/// <param name="ReasonColumn">Code column with the reason why not.</param>
public sealed record ScreeningLog(string Table, string Column, ImmutableArray<string> EnrolledCodes, string ReasonColumn);

/// <summary>How the follow-up of a participant ended, and how long everybody was to be followed at least.</summary>
/// <param name="Table">Table with a row per participant.</param>
/// <param name="Column">Code column with the way it ended.</param>
/// <param name="DayColumn">Column of the day of last contact.</param>
/// <param name="AsPlannedCodes">Codes of those who were followed to the end planned for them.</param>
/// <param name="PlannedDays">Days that everybody was to be followed at least, by design.</param>
/// <param name="Source">Where that design is stated.</param>
public sealed record FollowUpEnd(
    string Table, string Column, string DayColumn, ImmutableArray<string> AsPlannedCodes, int PlannedDays, string Source);

/// <summary>A noun in both numbers.</summary>
/// <param name="One">Singular.</param>
/// <param name="Many">Plural.</param>
public sealed record Words(string One, string Many)
{
    /// <summary>The count followed by the right noun.</summary>
    public string Count(int n) => FormattableString.Invariant($"{n} {(n == 1 ? One : Many)}");
}

/// <summary>A site that sends exports.</summary>
/// <param name="Id">Code of the site as exports write it.</param>
/// <param name="Label">Name in the report.</param>
public sealed record SiteDefinition(string Id, string Label);

/// <summary>A scheduled visit.</summary>
/// <param name="Id">Code of the visit as exports write it.</param>
/// <param name="Label">Name in the report.</param>
/// <param name="Day">Planned day since enrolment.</param>
/// <param name="Earliest">First day that still counts as this visit.</param>
/// <param name="Latest">Last day that still counts as this visit.</param>
public sealed record VisitDefinition(string Id, string Label, int Day, int Earliest, int Latest);
