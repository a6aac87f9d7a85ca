using System.Collections.Immutable;
using RotationStudy.Study.Protocol.Reading;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Protocol.Sealing;

/// <summary>What a plan says differently from the sealed one, key by key. Comments, blanks and the order of keys are no deviations.</summary>
internal static class PlanDeviations
{
    /// <summary>Keys by which items of a list are known, so that a new question in front does not move all others.</summary>
    private static readonly string[] NameKeys = ["id", "name", "measure", "column", "code", "first", "table", "file", "site"];

    /// <summary>All deviations, in order of file.</summary>
    internal static ImmutableArray<PlanDeviation> Between(PlanSeal seal, IReadOnlyDictionary<string, YamlMap> now)
    {
        List<PlanDeviation> found = [];
        foreach (SealedFile file in seal.Files)
        {
            YamlMap? then = YamlTree.Read(file.Name, file.Text, new FaultList());
            if (now.TryGetValue(file.Name, out YamlMap? map))
                Compare(file.Name, string.Empty, then, map, found);
            else
                found.Add(new PlanDeviation(file.Name, string.Empty, "the file", null));
        }
        foreach (string name in now.Keys.Except(seal.Files.Select(f => f.Name)).Order(StringComparer.Ordinal))
            found.Add(new PlanDeviation(name, string.Empty, null, "the file"));
        return [.. found];
    }

    private static void Compare(string file, string path, YamlItem? then, YamlItem? now, List<PlanDeviation> found)
    {
        switch (then, now)
        {
            case (YamlMap a, YamlMap b):
                CompareNamed(file, path, Named(a), Named(b), found);
                break;
            case (YamlList a, YamlList b) when Named(a) is { } old && Named(b) is { } young:
                CompareNamed(file, path, old, young, found);
                string order = string.Join(", ", old.Select(o => o.Name).Where(n => young.Any(y => y.Name == n)));
                string orderNow = string.Join(", ", young.Select(y => y.Name).Where(n => old.Any(o => o.Name == n)));
                if (order != orderNow)
                    found.Add(new PlanDeviation(file, path, $"in the order {order}", $"in the order {orderNow}"));
                break;
            default:
                (string? was, string? says) = (Words(then), Words(now));
                if (was != says)
                    found.Add(new PlanDeviation(file, path, was, says));
                break;
        }
    }

    private static void CompareNamed(
        string file, string path, ImmutableArray<(string Name, YamlItem Item)> then, ImmutableArray<(string Name, YamlItem Item)> now, List<PlanDeviation> found)
    {
        foreach ((string name, YamlItem item) in then)
            Compare(file, Below(path, name), item, now.FirstOrDefault(n => n.Name == name).Item, found);
        foreach ((string name, YamlItem item) in now.Where(n => then.All(t => t.Name != n.Name)))
            Compare(file, Below(path, name), null, item, found);
    }

    private static ImmutableArray<(string Name, YamlItem Item)> Named(YamlMap map) => [.. map.Entries.Select(e => (e.Key, e.Value))];

    /// <summary>The items of a list by their names; null for a list of words or numbers.</summary>
    private static ImmutableArray<(string Name, YamlItem Item)>? Named(YamlList list)
    {
        if (list.Items.Length == 0 || !list.Items.All(i => i is YamlMap))
            return null;
        Dictionary<string, int> seen = new(StringComparer.Ordinal);
        return [.. list.Items.Select(i => (Numbered(NameOf((YamlMap)i), seen), i))];
    }

    private static string NameOf(YamlMap map)
        => NameKeys.Select(k => (map.Entries.FirstOrDefault(e => e.Key == k)?.Value as YamlText)?.Value).FirstOrDefault(v => v is not null) ?? "item";

    private static string Numbered(string name, Dictionary<string, int> seen)
    {
        int times = seen[name] = seen.GetValueOrDefault(name) + 1;
        return times == 1 ? name : FormattableString.Invariant($"{name} ({times})");
    }

    private static string Below(string path, string name) => path.Length == 0 ? name : $"{path} / {name}";

    private static string? Words(YamlItem? item) => item switch
    {
        null or YamlText { IsNothing: true } => null,
        YamlText text => text.Value,
        YamlList list => $"[{string.Join(", ", list.Items.Select(Words))}]",
        YamlMap map => string.Join("; ", map.Entries.Select(e => $"{e.Key}: {Words(e.Value)}")),
        _ => item.Words,
    };
}
