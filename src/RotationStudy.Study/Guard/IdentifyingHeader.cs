using System.Collections.Frozen;
using System.Text.RegularExpressions;

namespace RotationStudy.Study.Guard;

/// <summary>Names of columns that say they hold identifying data, and headers that are values themselves, as in a file without a header.</summary>
internal static partial class IdentifyingHeader
{
    private static readonly FrozenSet<string> Telling = (
        "surname,forename,firstname,lastname,fullname,initials,vorname,nachname,geburtsdatum,birthdate,birthday,birth,born,dob,address,street,postcode,"
        + "zip,zipcode,postal,city,town,phone,telephone,telefon,mobile,fax,email,mail,ssn,mrn,nhs,passport,insurance,adresse,strasse,plz,nom,prenom,"
        + "apellido,nombre,licence,license,iban,accession").Split(',').ToFrozenSet(StringComparer.Ordinal);

    private static readonly FrozenSet<string> NameOf = "first,last,given,family,full,patient,person,mother,father,parent,doctor,middle,maiden".Split(',').ToFrozenSet(StringComparer.Ordinal);

    /// <summary>Whether a header says that its column identifies people.</summary>
    internal static bool Tells(string header)
    {
        string[] words = WordsOf(header);
        return words.Any(Telling.Contains)
            || words is ["name"]
            || (words.Contains("name") && words.Any(NameOf.Contains))
            || (words.Contains("number") && words.Any(w => w is "record" or "hospital" or "security" or "patient"))
            || (words.Contains("date") && words.Length <= 3);
    }

    /// <summary>Whether a header is a value itself, so that it must not be repeated.</summary>
    internal static bool IsValue(string header) => CellGuard.TextRule(header) is not null;

    /// <summary>A header as a message may name it.</summary>
    internal static string Shown(string header) => IsValue(header) ? "a column whose name is not repeated here" : header;

    /// <summary>The words of a header in lower case.</summary>
    internal static string[] WordsOf(string header) => [.. Word().Matches(header).Select(m => m.Value.ToLowerInvariant())];

    [GeneratedRegex(@"\p{Lu}?\p{Ll}+|\p{Lu}+(?!\p{Ll})", RegexOptions.CultureInvariant)]
    private static partial Regex Word();
}
