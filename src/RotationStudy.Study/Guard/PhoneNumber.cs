using System.Text.RegularExpressions;

namespace RotationStudy.Study.Guard;

/// <summary>Telephone numbers: led by a plus, a zero or a bracket, or in the groups of three, three and four.</summary>
internal static partial class PhoneNumber
{
    internal static bool IsIn(string text) => Led().IsMatch(text) || Grouped().IsMatch(text);

    [GeneratedRegex(@"(?<![\d.,\p{L}])(\+|\(\+?|0)\d{1,4}[)/ .-]{0,2}(\d[ ./()-]{0,2}){6,12}(?![\d.,])", RegexOptions.CultureInvariant)]
    private static partial Regex Led();

    [GeneratedRegex(@"(?<!\d)\d{3}[ .-]\d{3}[ .-]\d{4}(?!\d)", RegexOptions.CultureInvariant)]
    private static partial Regex Grouped();
}
