using System.Collections.Immutable;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Guard;

/// <summary>The rules of the guard against identifying data. Each stops a run; none repeats what it found.</summary>
internal static class GuardRules
{
    /// <summary>Begins the id of each of these rules.</summary>
    internal const string Prefix = "identity.";

    internal static readonly CheckRule Address = Of("address", "a postal address", "A cell looks like a postal address.");
    internal static readonly CheckRule Age = Of("age", "an age over 89", "An age over 89 years identifies, since few reach it.");
    internal static readonly CheckRule Date = Of("date", "a calendar date", "A cell looks like a calendar date. Exports have days since enrolment.");
    internal static readonly CheckRule Email = Of("email", "an e-mail or web address", "A cell looks like an e-mail address or an address of the web.");
    internal static readonly CheckRule FreeText = Of("free_text", "free text", "A cell holds sentences. Names, dates and places hide in free text.");
    internal static readonly CheckRule Header = Of("header", "a column of identifying data", "The name of a column says that it identifies people, or is itself a value.");
    internal static readonly CheckRule Name = Of("name", "a person's name", "A cell looks like the name of a person.");
    internal static readonly CheckRule Phone = Of("phone", "a telephone number", "A cell looks like a telephone number.");
    internal static readonly CheckRule Rare = Of("rare", "a rare combination", "Fewer participants than the protocol asks for share a combination of the columns by which they could be recognised.");
    internal static readonly CheckRule RecordNumber = Of("record_number", "a record number", "A cell looks like a number of a clinic's record, an insurance or an identity card.");

    internal static ImmutableArray<CheckRule> All { get; } = [Address, Age, Date, Email, FreeText, Header, Name, Phone, Rare, RecordNumber];

    private static CheckRule Of(string id, string reason, string explanation) => new(Prefix + id, Severity.Stop, reason, explanation);
}
