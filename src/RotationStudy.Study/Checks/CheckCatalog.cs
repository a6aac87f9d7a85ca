using System.Collections.Frozen;
using System.Collections.Immutable;
using RotationStudy.Study.Guard;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks;

/// <summary>Every rule of ingest. Ids are stable: query lists of different exports are compared by them.</summary>
public static class CheckCatalog
{
    internal static readonly CheckRule FileMissing = new(
        "file.missing", Severity.Stop, "file missing",
        "A file that the protocol requires is not in the export folder.");

    internal static readonly CheckRule FileOutside = new(
        "file.outside", Severity.Stop, "link out of the folder",
        "A file of the export is a link to somewhere outside the folder.");

    internal static readonly CheckRule FileEmpty = new(
        "file.empty", Severity.Stop, "file empty", "A file holds nothing, not even a header.");

    internal static readonly CheckRule FileEncoding = new(
        "file.encoding", Severity.Stop, "not UTF-8 text",
        "A file is not text in UTF-8 (or UTF-16 with its mark), so letters would be guessed.");

    internal static readonly CheckRule FileSeparator = new(
        "file.separator", Severity.Stop, "not separated by commas",
        "The header is separated by something other than commas.");

    internal static readonly CheckRule FileQuoting = new(
        "file.quoting", Severity.Stop, "broken quoting",
        "Quotation marks do not pair up, so nobody can tell where cells and rows end.");

    internal static readonly CheckRule FileUnknown = new(
        "file.unknown", Severity.Note, "file not in the protocol",
        "A file of the folder is not declared in the protocol and was not read.");

    internal static readonly CheckRule FileTwice = new(
        "file.twice", Severity.Stop, "table in two files", "A table is there in two formats, and nobody can tell which one counts.");

    internal static readonly CheckRule FileUnreadable = new(
        "file.unreadable", Severity.Stop, "file cannot be read", "A workbook, Parquet or Dataset-JSON file, or a mapped text file, is damaged or not what its name says.");

    internal static readonly CheckRule FileArchive = new(
        "file.archive", Severity.Stop, "archive refused",
        "An entry of a zip archive leads out of it, is packed beyond measure, or cannot be unpacked.");

    internal static readonly CheckRule MapUnmapped = new(
        "map.unmapped", Severity.AskTheSite, "column not in the mapping",
        "A column of a site's file is neither mapped nor ignored with a reason; it was not read.");

    internal static readonly CheckRule MapAbsent = new(
        "map.absent", Severity.Stop, "mapped column missing", "A column that the mapping of the site names is not in the file.");

    internal static readonly CheckRule MapNoValues = new(
        "map.no_values", Severity.Note, "nothing to make a row of",
        "All cells that would make up a row, beside those common to all, are empty; no row is made of them.");

    internal static readonly CheckRule HeaderDuplicate = new(
        "header.duplicate", Severity.Stop, "column twice", "Two columns of a file have the same name.");

    internal static readonly CheckRule HeaderMissing = new(
        "header.missing", Severity.Stop, "required column missing",
        "A column that is required or part of the key is not in the file.");

    internal static readonly CheckRule HeaderAbsent = new(
        "header.absent", Severity.AskTheSite, "column not in the export",
        "An optional column is not in the file; its values are missing for every row.");

    internal static readonly CheckRule HeaderUnknown = new(
        "header.unknown", Severity.AskTheSite, "column not in the protocol",
        "A column of the file is not declared in the protocol and was not read.");

    internal static readonly CheckRule TableNoRows = new(
        "table.no_rows", Severity.Note, "no rows", "A file has a header and no rows.");

    internal static readonly CheckRule RosterEmpty = new(
        "roster.empty", Severity.Stop, "no participants", "No participant is left, so there is nothing to analyse.");

    internal static readonly CheckRule RowFields = new(
        "row.fields", Severity.SetAside, "too many or too few cells",
        "A row has more or fewer cells than the header. A decimal comma or an unquoted comma in a text is the usual cause.");

    internal static readonly CheckRule KeyMissing = new(
        "key.missing", Severity.SetAside, "key missing",
        "A row lacks the participant, visit, side or another part of its key, so it belongs nowhere.");

    internal static readonly CheckRule SideUnknown = new(
        "side.unknown", Severity.SetAside, "side neither L nor R",
        "A side is neither L nor R. It is not guessed, because a wrong side is worse than none.");

    internal static readonly CheckRule IdentifierForm = new(
        "identifier.form", Severity.SetAside, "identifier with blanks or unusual characters",
        "An identifier has blanks around it, control characters or letters that are not plain a to z, which may look the same and are not.");

    internal static readonly CheckRule IdentifierLookAlike = new(
        "identifier.look_alike", Severity.AskTheSite, "identifiers that look alike",
        "Two participants have identifiers that differ only in case, blanks or letters that look alike; they may be one person.");

    internal static readonly CheckRule RowDuplicate = new(
        "row.duplicate", Severity.SetAside, "row repeated",
        "A row repeats another row in every value; one of them is kept.");

    internal static readonly CheckRule KeyConflict = new(
        "key.conflict", Severity.SetAside, "rows of one key that differ",
        "Rows have the same key and different values. None is used until the site says which is right.");

    internal static readonly CheckRule ParticipantUnknown = new(
        "participant.unknown", Severity.SetAside, "participant not in the roster",
        "A row belongs to a participant whom the roster does not list, or whose row there was set aside.");

    internal static readonly CheckRule ParticipantNoVisit = new(
        "participant.no_visit", Severity.AskTheSite, "participant without a visit",
        "A participant of the roster has no row in any table of visits.");

    internal static readonly CheckRule VisitNotListed = new(
        "visit.not_listed", Severity.AskTheSite, "visit not in the list of visits",
        "A row belongs to a visit of which the list of visits knows nothing.");

    internal static readonly CheckRule VisitWindow = new(
        "visit.window", Severity.AskTheSite, "visit outside its window",
        "A visit took place outside the window that the protocol gives it.");

    internal static readonly CheckRule DayBeforeEnrolment = new(
        "day.before_enrolment", Severity.SetAside, "before enrolment",
        "A row is dated before enrolment where only days from enrolment on are collected.");

    internal static readonly CheckRule DayAfterLastContact = new(
        "day.after_last_contact", Severity.AskTheSite, "after the last contact",
        "A row is dated after the last contact with the participant.");

    internal static readonly CheckRule TypeNumber = new(
        "type.number", Severity.SetAside, "not a number", "A cell of a numeric column is no finite number.");

    internal static readonly CheckRule TypeDecimalComma = new(
        "type.decimal_comma", Severity.SetAside, "number with a comma",
        "A number is written with a comma. It is not converted, because 2,5 may be two and a half or a thousands separator gone wrong.");

    internal static readonly CheckRule TypeWholeNumber = new(
        "type.whole_number", Severity.SetAside, "not a whole number",
        "A cell of a column of whole numbers has a fraction.");

    internal static readonly CheckRule CodeUnknown = new(
        "code.unknown", Severity.SetAside, "unknown code", "A cell holds a code that the protocol does not list.");

    internal static readonly CheckRule RangePossible = new(
        "range.possible", Severity.SetAside, "outside the possible range", "A value cannot be true.");

    internal static readonly CheckRule RangePlausible = new(
        "range.plausible", Severity.AskTheSite, "outside the plausible range",
        "A value can be true and is rare enough to be asked about; it is used.");

    internal static readonly CheckRule ValueRequired = new(
        "value.required", Severity.AskTheSite, "required value missing",
        "A value that every row should have is missing.");

    internal static readonly CheckRule ConsentWithdrawn = new(
        "consent.withdrawn", Severity.Note, "consent withdrawn",
        "Participants who withdrew consent were removed before anything else was looked at; how many is all that is left of them.");

    internal static readonly CheckRule OneSite = new(
        "site.only_one", Severity.Note, "one site only",
        "All participants come from one site although the protocol names several.");

    internal static readonly CheckRule HipFirst = new(
        "hip.first", Severity.AskTheSite, "hip first",
        "A hip was painful, restricted or not examined. For the clinical team, before anything else.");

    /// <summary>All rules, in ordinal order of id.</summary>
    public static ImmutableArray<CheckRule> All { get; } =
    [
        .. new[]
        {
            FileMissing, FileOutside, FileEmpty, FileEncoding, FileSeparator, FileQuoting, FileUnknown, FileTwice,
            FileUnreadable, FileArchive, MapUnmapped, MapAbsent, MapNoValues,
            HeaderDuplicate, HeaderMissing, HeaderAbsent, HeaderUnknown,
            TableNoRows, RosterEmpty, RowFields, KeyMissing, SideUnknown, IdentifierForm, IdentifierLookAlike, RowDuplicate, KeyConflict,
            ParticipantUnknown, ParticipantNoVisit, VisitNotListed, VisitWindow, DayBeforeEnrolment, DayAfterLastContact,
            TypeNumber, TypeDecimalComma, TypeWholeNumber, CodeUnknown, RangePossible, RangePlausible, ValueRequired, ConsentWithdrawn, OneSite, HipFirst,
        }.Concat(GuardRules.All).OrderBy(r => r.Id, StringComparer.Ordinal),
    ];

    private static readonly FrozenDictionary<string, CheckRule> ById = All.ToFrozenDictionary(r => r.Id);

    /// <summary>The rule of that id.</summary>
    /// <exception cref="KeyNotFoundException">There is no such rule.</exception>
    public static CheckRule Rule(string id)
        => ById.TryGetValue(id, out CheckRule? rule) ? rule : throw new KeyNotFoundException($"No rule is called '{id}'.");

    /// <summary>What a rule or a check of the study looks at, in words; the id itself where there is neither.</summary>
    /// <param name="rule">Id of the rule.</param>
    /// <param name="protocol">The study.</param>
    public static string Explain(string rule, StudyProtocol protocol)
        => protocol.Checks.FirstOrDefault(c => c.Id == rule)?.Says ?? Explain(rule);

    /// <summary>Why a row was left out by a rule or a check of the study; the id itself where there is neither.</summary>
    /// <param name="rule">Id of the rule.</param>
    /// <param name="protocol">The study.</param>
    public static string Reason(string rule, StudyProtocol protocol)
        => protocol.Checks.FirstOrDefault(c => c.Id == rule)?.Label ?? Reason(rule);

    /// <summary>What a rule looks at, in words; the id itself where there is no such rule.</summary>
    /// <param name="rule">Id of the rule.</param>
    public static string Explain(string rule) => ById.TryGetValue(rule, out CheckRule? known) ? known.Explanation : rule;

    /// <summary>Why a row or value was left out, in a few words; the id itself where there is no such rule.</summary>
    /// <param name="rule">Id of the rule.</param>
    public static string Reason(string rule) => ById.TryGetValue(rule, out CheckRule? known) ? known.Reason : rule;
}
