using System.Text.RegularExpressions;

namespace RotationStudy.Study.Guard;

/// <summary>Numbers of clinical records, insurances and identity cards: seven digits or more in one run, or in the groups such numbers have.</summary>
/// <remarks>Check digits are not asked for: a long number identifies with and without one, and one mistyped digit must not hide it.</remarks>
internal static partial class RecordNumber
{
    internal static bool IsIn(string text) => Run().IsMatch(text) || Groups().IsMatch(text);

    [GeneratedRegex(@"(?<![0-9.,])[0-9]{7,}(?![0-9]*[.,][0-9])", RegexOptions.CultureInvariant)]
    private static partial Regex Run();

    [GeneratedRegex(@"(?<![0-9])([0-9]{3}-[0-9]{2}-[0-9]{4}|[0-9]{3} [0-9]{3} [0-9]{4}|[0-9]{6}[-+][0-9]{3,4}[A-Z]?|[0-9]{4}([ -][0-9]{4}){2,})(?![0-9])", RegexOptions.CultureInvariant)]
    private static partial Regex Groups();
}
