namespace RotationStudy.Study.Guard;

/// <summary>Sentences where the protocol has codes, numbers and identifiers.</summary>
internal static class FreeText
{
    private const int FewestWords = 4;
    private const int FewestLetters = 60;

    internal static bool IsIn(string text)
    {
        if (text.Length >= FewestLetters)
            return true;
        int words = 0;
        bool inside = false;
        foreach (char letter in text)
        {
            bool isLetter = char.IsLetter(letter);
            words += isLetter && !inside ? 1 : 0;
            inside = isLetter || (inside && letter is '\'' or '-');
        }
        return words >= FewestWords && text.Contains(' ', StringComparison.Ordinal);
    }
}
