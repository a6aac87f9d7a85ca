using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace RotationStudy.Study.Results;

/// <summary>Everything a report is made of. Written as results.json and read back; the report sees nothing else.</summary>
/// <param name="Study">Title, purpose, words and cautions.</param>
/// <param name="Provenance">What went in: versions, seed, hashes.</param>
/// <param name="Accounts">What became of every row read.</param>
/// <param name="DataQuality">Findings counted by rule, and those that need a person.</param>
/// <param name="Flow">Who was enrolled, left out and analysed.</param>
/// <param name="Questions">Answers, in the order of the plan.</param>
/// <param name="Measures">Definitions of the measures, as the protocol chose them.</param>
/// <param name="Figures">Figures wanted.</param>
public sealed record StudyResults(
    StudyFacts Study,
    Provenance Provenance,
    ImmutableArray<AccountLine> Accounts,
    DataQuality DataQuality,
    ImmutableArray<FlowStep> Flow,
    ImmutableArray<QuestionResult> Questions,
    ImmutableArray<MeasureFacts> Measures,
    ImmutableArray<FigureRequest> Figures)
{
    /// <summary>How follow-up ended and how complete it was; null where the protocol does not say how it ends.</summary>
    public FollowUpFacts? FollowUp { get; init; }

    /// <summary>Which values are missing, and which go missing together.</summary>
    public MissingFacts Missing { get; init; } = new([], [], []);

    /// <summary>What the plan asks and these data cannot give, found before anything was fitted.</summary>
    public ImmutableArray<PlanFaultLine> PlanFaults { get; init; } = [];

    /// <summary>Estimates under every combination of the plan's choices; empty where the plan lists none.</summary>
    public ImmutableArray<ChoiceGarden> Gardens { get; init; } = [];

    /// <summary>Models developed on the cohort and published scores applied to it; empty where the protocol asks for none.</summary>
    public ImmutableArray<PredictionResult> Predictions { get; init; } = [];

    /// <summary>Effects by site; empty where the protocol asks for none.</summary>
    public ImmutableArray<SiteEffects> SiteEffects { get; init; } = [];

    /// <summary>Flags for the clinical team, recovery, diaries and changes of scores.</summary>
    public CourseResults Course { get; init; } = CourseResults.None;

    /// <summary>How the cohort reads under each cut-off of a score; null where the protocol declares none.</summary>
    public ScoreReadings? Scores { get; init; }

    /// <summary>What figures of measures draw, beside the questions.</summary>
    public FigureValues Values { get; init; } = FigureValues.None;

    /// <summary>How predicted risks compare with what happened, one per model or score and sample.</summary>
    public ImmutableArray<RiskPerformance> Risks { get; init; } = [];

    /// <summary>Mean curves over an arc with simultaneous bands.</summary>
    public ImmutableArray<TrackingResult> Tracking { get; init; } = [];

    /// <summary>Hashes of what each stage held, in the order of the run.</summary>
    public ImmutableArray<StageHash> Stages { get; init; } = [];

    /// <summary>The sealed plan and the deviations from it; null where the plan was never sealed.</summary>
    public PlanSealFacts? Seal { get; init; }

    /// <summary>Uses of random numbers.</summary>
    public ImmutableArray<RandomUse> Streams { get; init; } = [];

    /// <summary>The rows of each question by their ids, for files of their own; not written to results.json.</summary>
    [JsonIgnore]
    public ImmutableArray<QuestionRows> Rows { get; init; } = [];
}

/// <summary>The study in words.</summary>
/// <param name="Id">Short name.</param>
/// <param name="Title">Title.</param>
/// <param name="Purpose">What it wants to know.</param>
/// <param name="Design">Design.</param>
/// <param name="Source">Where the data come from.</param>
/// <param name="ParticipantOne">What a participant is called.</param>
/// <param name="ParticipantMany">The plural.</param>
/// <param name="UnitOne">What a side of a participant is called; null where a participant has one unit.</param>
/// <param name="UnitMany">The plural; null where a participant has one unit.</param>
/// <param name="Eligibility">Who may take part.</param>
/// <param name="Sites">Sites by label.</param>
/// <param name="PlanDated">Date the plan was fixed, ISO.</param>
/// <param name="SmallestPrintedCount">Counts of people below this are hidden.</param>
/// <param name="Cautions">Printed with every report.</param>
public sealed record StudyFacts(
    string Id, string Title, string Purpose, string Design, string Source,
    string ParticipantOne, string ParticipantMany, string? UnitOne, string? UnitMany,
    ImmutableArray<string> Eligibility, ImmutableArray<string> Sites, string PlanDated,
    int SmallestPrintedCount, ImmutableArray<string> Cautions);

/// <summary>What went into a run; the same values give the same bytes.</summary>
/// <param name="ProgramVersion">Version of the program.</param>
/// <param name="ProtocolVersion">Version of the protocol.</param>
/// <param name="ProtocolSha256">One hash over the names and hashes of the protocol's files.</param>
/// <param name="ExportsSha256">One hash over the names and hashes of the export files.</param>
/// <param name="Seed">Random seed.</param>
/// <param name="ProtocolFiles">Files of the protocol.</param>
/// <param name="ExportFiles">Files of the export.</param>
public sealed record Provenance(
    string ProgramVersion, string ProtocolVersion, string ProtocolSha256, string ExportsSha256, int Seed,
    ImmutableArray<FileFacts> ProtocolFiles, ImmutableArray<FileFacts> ExportFiles);

/// <summary>A file that went in.</summary>
/// <param name="Name">Name relative to its folder.</param>
/// <param name="Sha256">Hash of its bytes.</param>
/// <param name="Bytes">Length.</param>
public sealed record FileFacts(string Name, string Sha256, long Bytes);

/// <summary>What became of the rows of one file.</summary>
/// <param name="File">File name.</param>
/// <param name="Label">Name of the table in the report.</param>
/// <param name="Read">Rows read.</param>
/// <param name="Used">Rows used.</param>
/// <param name="SetAside">Rows left out, by rule.</param>
public sealed record AccountLine(string File, string Label, int Read, int Used, ImmutableArray<ReasonCount> SetAside);

/// <summary>A reason and how often it applied.</summary>
/// <param name="Reason">The reason in words.</param>
/// <param name="Rows">Rows.</param>
/// <param name="Participants">Distinct participants; 0 where not counted.</param>
public sealed record ReasonCount(string Reason, int Rows, int Participants);

/// <summary>Findings in the report.</summary>
/// <param name="Rules">Count by rule and severity.</param>
/// <param name="HipFirst">Visits for the clinical team first: hip painful, restricted or not examined.</param>
/// <param name="Examples">The first findings of each rule, for reading; the full list goes out as the query list.</param>
public sealed record DataQuality(
    ImmutableArray<RuleLine> Rules, ImmutableArray<HipFirstLine> HipFirst, ImmutableArray<FindingLine> Examples)
{
    /// <summary>Every check of the study, whether it found anything or not.</summary>
    public ImmutableArray<CheckFacts> Checks { get; init; } = [];
}

/// <summary>A check in words.</summary>
/// <param name="Id">Id.</param>
/// <param name="Kind">Kind of a declared check, or "every study".</param>
/// <param name="Table">Table it looks at; empty for a rule of every study.</param>
/// <param name="Does">What a finding does.</param>
/// <param name="Says">What is looked at, or what the site reads.</param>
/// <param name="Source">Source of its limits; empty for a rule of every study.</param>
/// <param name="Findings">How many findings it has.</param>
public sealed record CheckFacts(string Id, string Kind, string Table, string Does, string Says, string Source, int Findings);

/// <summary>Findings of a rule.</summary>
/// <param name="Rule">Id of the rule.</param>
/// <param name="Severity">What it does, in words.</param>
/// <param name="Explanation">What the rule looks at.</param>
/// <param name="Count">How many findings.</param>
public sealed record RuleLine(string Rule, string Severity, string Explanation, int Count);

/// <summary>A visit whose hip comes first.</summary>
/// <param name="Participant">Identifier.</param>
/// <param name="Site">Site.</param>
/// <param name="Visit">Visit.</param>
/// <param name="Side">Side.</param>
/// <param name="What">Painful, restricted, or not examined.</param>
public sealed record HipFirstLine(string Participant, string Site, string Visit, string Side, string What);

/// <summary>One finding for reading.</summary>
/// <param name="Rule">Id of the rule.</param>
/// <param name="Severity">What it does.</param>
/// <param name="Where">File, line, column.</param>
/// <param name="Value">The value, or empty.</param>
/// <param name="Message">The sentence for the site.</param>
public sealed record FindingLine(string Rule, string Severity, string Where, string Value, string Message);

/// <summary>A step of the participant flow.</summary>
/// <param name="Label">What the box says, such as "in the roster".</param>
/// <param name="Participants">Participants left.</param>
/// <param name="Units">Units (knees) left; 0 where a participant has one unit.</param>
/// <param name="LeftOut">Who was left out to get here, by reason.</param>
/// <param name="Branch">Null for the trunk; a question id for a branch that starts from the last trunk box.</param>
public sealed record FlowStep(string Label, int Participants, int Units, ImmutableArray<ReasonCount> LeftOut, string? Branch);

/// <summary>Definition of a measure for the appendix.</summary>
/// <param name="Id">Id.</param>
/// <param name="Label">Name.</param>
/// <param name="Unit">Unit.</param>
/// <param name="Definition">Definition, including the options chosen, in words.</param>
/// <param name="Source">Source.</param>
/// <param name="Present">Rows with a value at the measure's own level.</param>
/// <param name="Absent">Rows without.</param>
public sealed record MeasureFacts(string Id, string Label, string? Unit, string Definition, string? Source, int Present, int Absent)
{
    /// <summary>All that is to be known of the measure, for the appendix; empty in results written before there was one.</summary>
    public ImmutableArray<ExplainedPoint> Explanation { get; init; } = [];
}

/// <summary>A figure wanted.</summary>
/// <param name="Id">File name without ending.</param>
/// <param name="Kind">Kind, as the protocol writes it.</param>
/// <param name="Title">Title.</param>
/// <param name="Questions">Question ids.</param>
/// <param name="Exposure">Exposure on the horizontal axis, or null.</param>
public sealed record FigureRequest(string Id, string Kind, string Title, ImmutableArray<string> Questions, string? Exposure)
{
    /// <summary>Uses that the run draws it for, as the protocol writes them, beside the picture of the report.</summary>
    public ImmutableArray<string> Uses { get; init; } = [];

    /// <summary>Ends of the horizontal axis of a scatter or a forest, on the scale of the data; empty lets the data decide.</summary>
    public ImmutableArray<double> Across { get; init; } = [];
}
