using System.Globalization;
using System.Text;

namespace RotationStudy.Report;

/// <summary>Makes characters visible that a reader cannot see: control characters, marks that turn the writing direction, and zero-width ones.</summary>
/// <remarks>
/// Text from an export may hold such characters by accident or to deceive (a right-to-left override reverses what follows
/// it). They are shown as their code, such as [U+202E], wherever text reaches a page, a figure or an alternative text.
/// </remarks>
internal static class VisibleText
{
    /// <summary>The text with every invisible character replaced by its code.</summary>
    internal static string Of(string text)
    {
        if (!text.Any(IsInvisible))
            return text;
        StringBuilder visible = new(text.Length + 16);
        foreach (char c in text)
        {
            if (IsInvisible(c))
                visible.Append(CultureInfo.InvariantCulture, $"[U+{(int)c:X4}]");
            else
                visible.Append(c);
        }
        return visible.ToString();
    }

    private static bool IsInvisible(char c)
        => (char.IsControl(c) && c is not ('\n' or '\t'))
           || c is '\u061c' or '\u00ad' or '\ufeff'
           || c is (>= '\u200b' and <= '\u200f') or (>= '\u2028' and <= '\u202e') or (>= '\u2060' and <= '\u206f')
           || c is >= '\ufff9' and <= '\uffff';
}
