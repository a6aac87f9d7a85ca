using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Takes typed values out of a group of keys, and reports every key that nobody asked for.</summary>
/// <remarks>A fault never throws: a stand-in value is given back so that reading goes on and all faults are found.</remarks>
internal sealed class YamlSection
{
    private readonly YamlMap map;
    private readonly string what;
    private readonly ReadingContext context;
    private readonly Place owner;
    private readonly string path;
    private readonly Dictionary<string, YamlEntry> entries = new(StringComparer.Ordinal);
    private readonly List<string> asked = [];

    private YamlSection(YamlMap map, string what, ReadingContext context, Place owner, string path)
    {
        this.map = map;
        this.what = what;
        this.context = context;
        this.owner = owner;
        this.path = path;
        foreach (YamlEntry entry in map.Entries)
        {
            if (!entries.TryAdd(entry.Key, entry))
            {
                Fault(
                    entry.KeyPlace, $"The key '{entry.Key}' stands twice in {what}.",
                    $"Keep one; the first is on line {entries[entry.Key].KeyPlace.Line}.");
            }
        }
    }

    /// <summary>Where the section begins.</summary>
    internal Place Place => map.Place;

    /// <summary>The top of a file.</summary>
    internal static YamlSection Top(YamlMap map, string file, ReadingContext context)
        => new(map, file, context, PlaceBook.TopOf(file), string.Empty);

    internal bool Has(string key) => entries.TryGetValue(key, out YamlEntry? entry) && entry.Value is not YamlText { IsNothing: true };

    internal string Text(string key) => Required(key, "text") is { } item ? AsText(key, item) ?? string.Empty : string.Empty;

    internal string? OptionalText(string key) => Optional(key) is { } item ? AsText(key, item) : null;

    internal double Number(string key) => Required(key, "a number") is { } item ? AsNumber(key, item) : 0;

    internal double Number(string key, double whenAbsent) => Optional(key) is { } item ? AsNumber(key, item) : whenAbsent;

    internal int WholeNumber(string key) => Required(key, "a whole number") is { } item ? AsWholeNumber(key, item) : 0;

    internal bool Flag(string key) => Required(key, "true or false") is { } item && AsFlag(key, item);

    internal bool FlagOrFalse(string key) => Optional(key) is { } item && AsFlag(key, item);

    internal DateOnly Date(string key)
    {
        if (Required(key, "a date") is not { } item)
            return default;
        if (item is YamlText text
            && DateOnly.TryParseExact(text.Value, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly date))
            return date;
        Fault(item.Place, $"'{key}' must be a date, found {item.Words}.", "Write year, month and day as 2026-01-31.");
        return default;
    }

    /// <summary>One of the words of an enumeration, in snake case; null after a fault.</summary>
    internal T? Word<T>(string key)
        where T : struct, Enum
        => Required(key, NearestName.List(WordsOf<T>())) is { } item ? AsWord<T>(key, item) : null;

    /// <summary>One of the words of an enumeration, or the one to use when the key is absent.</summary>
    internal T Word<T>(string key, T whenAbsent)
        where T : struct, Enum
        => Optional(key) is { } item ? AsWord<T>(key, item) ?? whenAbsent : whenAbsent;

    internal ImmutableArray<string> Texts(string key)
        => [.. Items(key).Select((item, i) => AsText($"{key}[{i}]", item)).Where(t => !string.IsNullOrEmpty(t)).Select(t => t!)];

    internal ImmutableArray<double> Numbers(string key) => [.. Items(key).Select((item, i) => AsNumber($"{key}[{i}]", item))];

    /// <summary>A list of words of an enumeration, in snake case.</summary>
    internal ImmutableArray<T> Words<T>(string key)
        where T : struct, Enum
        => [.. Items(key).Select((item, i) => AsWord<T>($"{key}[{i}]", item)).OfType<T>()];

    /// <summary>The group of keys below a key, or null when it is absent.</summary>
    internal YamlSection? Section(string key)
    {
        if (Optional(key) is not { } item)
            return null;
        return AsSection(item, $"'{key}' of {what}", owner, PathOf(key));
    }

    /// <summary>The list of groups of keys below a key; empty when it is absent.</summary>
    internal IEnumerable<YamlSection> Sections(string key)
        => Items(key).Select((item, i) => AsSection(item, $"'{key}' of {what}", owner, $"{PathOf(key)}[{i}]")).OfType<YamlSection>();

    /// <summary>The list of things that are places of their own: tables, columns, measures, questions, figures.</summary>
    internal IEnumerable<YamlSection> Owners(string key, string noun)
    {
        foreach (YamlItem item in Items(key))
        {
            YamlItem? id = (item as YamlMap)?.Entries.FirstOrDefault(e => e.Key is "id" or "name")?.Value;
            string name = id is YamlText text ? $"{noun} '{text.Value}'" : $"a {noun}";
            if (AsSection(item, name, item.Place, string.Empty) is { } section)
                yield return section;
        }
    }

    /// <summary>Says that a key must be there, for keys that are needed under some condition only.</summary>
    internal void Need(string key, string because)
    {
        asked.Add(key);
        if (!Has(key))
            Fault(map.Place, $"The key '{key}' is missing in {what}.", because);
    }

    /// <summary>Marks a key as known and remembers its place without reading it.</summary>
    internal void Touch(string key) => Optional(key);

    internal void Fault(string key, string message, string hint) => Fault(context.Places.Of(owner, PathOf(key)), message, hint);

    /// <summary>Reports the keys that nobody asked for. To be called last.</summary>
    internal void Close()
    {
        foreach (YamlEntry entry in map.Entries.Where(e => !asked.Contains(e.Key)))
        {
            Fault(
                entry.KeyPlace, $"Unknown key '{entry.Key}' in {what}.",
                NearestName.Hint(entry.Key, [.. asked.Distinct().Where(a => !entries.ContainsKey(a))]));
        }
    }

    private static string[] WordsOf<T>()
        where T : struct, Enum
        => [.. Enum.GetNames<T>().Select(JsonNamingPolicy.SnakeCaseLower.ConvertName)];

    private string PathOf(string key) => path.Length == 0 ? key : $"{path}.{key}";

    private void Fault(Place place, string message, string hint) => context.Faults.Add(place, message, hint);

    private YamlItem? Optional(string key)
    {
        asked.Add(key);
        if (!entries.TryGetValue(key, out YamlEntry? entry) || entry.Value is YamlText { IsNothing: true })
            return null;
        context.Places.Add(owner, PathOf(key), entry.Value.Place);
        return entry.Value;
    }

    private YamlItem? Required(string key, string expected)
    {
        YamlItem? item = Optional(key);
        if (item is null)
        {
            string? slip = NearestName.Of(key, entries.Keys.Where(k => !asked.Contains(k)));
            bool written = entries.TryGetValue(key, out YamlEntry? entry);
            Fault(
                written ? entry!.KeyPlace : slip is null ? map.Place : entries[slip].KeyPlace,
                $"The key '{key}' is missing in {what}.",
                written || slip is null ? $"Expected {expected}." : $"Is '{slip}' a slip for it? Expected {expected}.");
        }
        return item;
    }

    private ImmutableArray<YamlItem> Items(string key)
    {
        switch (Optional(key))
        {
            case null:
                return [];
            case YamlList list:
                for (int i = 0; i < list.Items.Length; i++)
                    context.Places.Add(owner, $"{PathOf(key)}[{i}]", list.Items[i].Place);
                return list.Items;
            case var item:
                Fault(
                    item.Place, $"'{key}' must be a list, found {item.Words}.",
                    "Write one item per line after '-', or [a, b].");
                return [];
        }
    }

    private YamlSection? AsSection(YamlItem item, string name, Place sectionOwner, string sectionPath)
    {
        if (item is YamlMap inner)
            return new YamlSection(inner, name, context, sectionOwner, sectionPath);
        Fault(item.Place, $"{name} must be a group of keys, found {item.Words}.", "Write 'key: value' lines below it.");
        return null;
    }

    private string? AsText(string key, YamlItem item)
    {
        if (item is YamlText { IsNothing: false } text && text.Value.Trim().Length > 0)
            return text.Value;
        Fault(item.Place, $"'{key}' must be text, found {item.Words}.", "Write a word or a sentence.");
        return null;
    }

    private double AsNumber(string key, YamlItem item)
    {
        const NumberStyles style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;
        if (item is YamlText { Plain: true } text
            && double.TryParse(text.Value, style, CultureInfo.InvariantCulture, out double number)
            && double.IsFinite(number))
            return number;
        Fault(
            item.Place, $"'{key}' must be a number, found {item.Words}.",
            "Write digits with a decimal point and no quotes.");
        return 0;
    }

    private int AsWholeNumber(string key, YamlItem item)
    {
        if (item is YamlText { Plain: true } text
            && int.TryParse(text.Value, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int number))
            return number;
        Fault(
            item.Place, $"'{key}' must be a whole number, found {item.Words}.",
            "Write digits without a decimal point and without quotes.");
        return 0;
    }

    private bool AsFlag(string key, YamlItem item)
    {
        if (item is YamlText { Plain: true, Value: "true" or "false" } text)
            return text.Value == "true";
        Fault(item.Place, $"'{key}' must be true or false, found {item.Words}.", "Write true or false without quotes.");
        return false;
    }

    private T? AsWord<T>(string key, YamlItem item)
        where T : struct, Enum
    {
        string[] words = WordsOf<T>();
        if (item is YamlText text)
        {
            int at = Array.IndexOf(words, text.Value);
            if (at >= 0)
                return Enum.GetValues<T>()[at];
            Fault(item.Place, $"'{text.Value}' is no valid '{key}'.", NearestName.Hint(text.Value, words));
            return null;
        }
        Fault(item.Place, $"'{key}' must be a word, found {item.Words}.", $"Use {NearestName.List(words)}.");
        return null;
    }
}
