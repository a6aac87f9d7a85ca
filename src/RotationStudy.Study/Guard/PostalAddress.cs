using System.Text.RegularExpressions;

namespace RotationStudy.Study.Guard;

/// <summary>Postal addresses: a number beside a word for a street, a post box, or a postcode with letters.</summary>
internal static partial class PostalAddress
{
    internal static bool IsIn(string text) => NumberFirst().IsMatch(text) || NumberLast().IsMatch(text) || Box().IsMatch(text) || Postcode().IsMatch(text);

    [GeneratedRegex(@"\b\d{1,5}[a-z]?,? ([\p{L}'.-]+ ){0,4}(street|st|road|rd|avenue|ave|lane|ln|drive|court|close|square|boulevard|blvd|way|terrace|rue|allee|allée|chemin|place)\b", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex NumberFirst();

    [GeneratedRegex(@"(straße|strasse|str\.|gasse|weg|platz|allee|straat|laan|gade|vej|gatan|vägen|gate|veien|\bvia [\p{L} ]+|\bcalle [\p{L} ]+|\brua [\p{L} ]+) ?,? ?\d{1,4}\b", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex NumberLast();

    [GeneratedRegex(@"\b(p\.? ?o\.? ?box|postfach|boîte postale|apartado) ?\d", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Box();

    [GeneratedRegex(@"\b[A-Z]{1,2}\d[A-Z\d]? \d[A-Z]{2}\b|\b[A-Z]\d[A-Z] \d[A-Z]\d\b|\b[A-Z]{2} \d{5}(-\d{4})?\b", RegexOptions.CultureInvariant)]
    private static partial Regex Postcode();
}
