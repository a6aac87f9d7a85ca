using System.Collections.Immutable;
using System.Text;
using RotationStudy.Study.Checks.Rows;

namespace RotationStudy.Study.Withdrawal;

/// <summary>The identifiers of participants who withdrew consent.</summary>
/// <remarks>
/// They live as long as a run and go nowhere: neither the list nor a hash of it is written, since a hash of a few short
/// identifiers can be reversed by trying them all.
/// </remarks>
public sealed class WithdrawnIds
{
    /// <summary>Name of the list in a protocol folder.</summary>
    public const string FileName = "withdrawn.txt";

    private const int ShortestWord = 3;
    private const string Replacement = "[withdrawn]";

    private readonly Dictionary<string, string> lines;
    private readonly HashSet<string> folded;

    private WithdrawnIds(Dictionary<string, string> lines)
    {
        this.lines = lines;
        folded = lines.Keys.Select(LookAlike.Folded).ToHashSet(StringComparer.Ordinal);
    }

    /// <summary>Nobody.</summary>
    public static WithdrawnIds None { get; } = new([]);

    /// <summary>Number of identifiers.</summary>
    public int Count => lines.Count;

    /// <summary>Reads lists of one identifier a line; empty lines and lines that begin with # are passed over.</summary>
    /// <param name="files">The files; those that are not there are a fault.</param>
    /// <exception cref="InvalidWithdrawalList">A line holds more than one identifier, or the file is no text.</exception>
    /// <exception cref="IOException">A file cannot be read.</exception>
    public static WithdrawnIds Read(params IEnumerable<string> files)
    {
        Dictionary<string, string> ids = new(StringComparer.OrdinalIgnoreCase);
        foreach (string file in files)
        {
            string[] texts = TextOf(file).TrimStart('\uFEFF').Split('\n');
            for (int i = 0; i < texts.Length; i++)
            {
                string id = texts[i].Trim();
                if (id.Length == 0 || id[0] == '#')
                    continue;
                if (id.Any(c => char.IsWhiteSpace(c) || char.IsControl(c) || c is ',' or ';' or '"'))
                {
                    throw new InvalidWithdrawalList(
                        file, i + 1, "The line holds more than one identifier.", "Write one identifier a line, without a header, commas or quotation marks.");
                }
                ids.TryAdd(id, FormattableString.Invariant($"line {i + 1} of {Path.GetFileName(file)}"));
            }
        }
        return new WithdrawnIds(ids);
    }

    /// <summary>These identifiers, for tests.</summary>
    internal static WithdrawnIds Of(params IEnumerable<string> ids)
        => new(ids.Select((id, i) => (id, i)).ToDictionary(p => p.id, p => $"line {p.i + 1} of the list", StringComparer.OrdinalIgnoreCase));

    /// <summary>The identifier of the list that a text is, whatever its case and the blanks around it; null when it is none.</summary>
    internal string? Find(string text) => text.Trim() is var id && lines.ContainsKey(id) ? id : null;

    /// <summary>Whether a text is easily taken for an identifier of the list.</summary>
    internal bool LooksLikeOne(string text) => folded.Contains(LookAlike.Folded(text));

    /// <summary>Where identifiers stand in the list that are not among those found.</summary>
    internal ImmutableArray<string> PlacesWithout(IReadOnlySet<string> found) => [.. lines.Where(l => !found.Contains(l.Key)).Select(l => l.Value)];

    /// <summary>A text with every identifier of the list replaced.</summary>
    /// <remarks>
    /// An identifier that might be a plain number is looked for only where messages name participants: in quotation marks,
    /// at the beginning of a key, and after "of"; else every such number would vanish.
    /// </remarks>
    internal string? Without(string? text)
    {
        if (text is null)
            return null;
        foreach (string id in lines.Keys)
        {
            for (int at = text.IndexOf(id, StringComparison.OrdinalIgnoreCase); at >= 0;)
            {
                bool stands = IsAlone(text, at, id.Length) && (IsWord(id) || NamesSomebody(text, at, id.Length));
                if (stands)
                    text = string.Concat(text.AsSpan(0, at), Replacement, text.AsSpan(at + id.Length));
                at = text.IndexOf(id, at + (stands ? Replacement.Length : 1), StringComparison.OrdinalIgnoreCase);
            }
        }
        return text;
    }

    private static bool IsWord(string id) => id.Length >= ShortestWord && id.Any(char.IsLetter);

    private static bool IsAlone(string text, int at, int length)
        => (at == 0 || !char.IsLetterOrDigit(text[at - 1])) && (at + length == text.Length || !char.IsLetterOrDigit(text[at + length]));

    private static bool NamesSomebody(string text, int at, int length)
        => at == 0
            ? text.Length == length || text.AsSpan(length).StartsWith(" | ", StringComparison.Ordinal)
            : text[at - 1] == '\'' || text.AsSpan(0, at).EndsWith(" of ", StringComparison.Ordinal) || text.AsSpan(0, at).EndsWith(" to ", StringComparison.Ordinal);

    private static string TextOf(string file)
    {
        try
        {
            return new UTF8Encoding(false, true).GetString(File.ReadAllBytes(file));
        }
        catch (DecoderFallbackException)
        {
            throw new InvalidWithdrawalList(file, 1, "The list of withdrawn identifiers is not UTF-8 text.", "Save it as plain text, one identifier a line.");
        }
    }
}

/// <summary>A list of withdrawn identifiers that cannot be read: nothing is done rather than leaving somebody in.</summary>
public sealed class InvalidWithdrawalList(string path, int line, string what, string hint) : Exception($"{path}:{line}: {what} {hint}");
