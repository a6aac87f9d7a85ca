using System.Text.RegularExpressions;

namespace RotationStudy.Study.Guard;

/// <summary>E-mail addresses and addresses of the web.</summary>
internal static partial class EmailAddress
{
    internal static bool IsIn(string text) => Mail().IsMatch(text) || Web().IsMatch(text);

    [GeneratedRegex(@"[^\s@<>]{1,64}@[^\s@<>]{1,200}\.\p{L}{2,}", RegexOptions.CultureInvariant)]
    private static partial Regex Mail();

    [GeneratedRegex(@"https?://|\bwww\.", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Web();
}
