using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Report.Record;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Audit;

/// <summary>Compares two finished runs: circumstances, stages, answers, outputs, in the order in which a run makes them.</summary>
public static class RunComparer
{
    private const string ResultsFile = "results.json";

    /// <summary>Outputs in the order in which they depend on each other; the rest follows by name.</summary>
    private static readonly string[] FirstOutputs = ["query-list.csv", "trace/", ResultsFile, "results.csv", "results.parquet", "tables/", "figures/"];

    /// <summary>Compares two run folders that were found intact.</summary>
    /// <param name="first">The archived run.</param>
    /// <param name="second">The second run.</param>
    public static RunComparison Compare(string first, string second)
    {
        ImmutableArray<ChainEntry> one = RunChain.Read(first), two = RunChain.Read(second);
        List<RunDifference> found = [.. Facts(one, two, RunChain.Program, RunDifference.Program), .. Facts(one, two, RunChain.Environment, RunDifference.Environment)];
        found.AddRange(Stages(one, two));
        found.AddRange(Answers(first, second));
        string[] both = [.. Named(one).Keys.Intersect(Named(two).Keys)];
        found.AddRange(Outputs(first, second, Named(one), Named(two)));
        return new RunComparison(both.Length, [.. found]);
    }

    private static IEnumerable<RunDifference> Facts(ImmutableArray<ChainEntry> one, ImmutableArray<ChainEntry> two, string kind, string stage)
    {
        ChainEntry? a = one.FirstOrDefault(e => e.Kind == kind), b = two.FirstOrDefault(e => e.Kind == kind);
        return (a?.Facts.Keys ?? []).Union(b?.Facts.Keys ?? []).Order(StringComparer.Ordinal)
            .Where(k => a?.Fact(k) != b?.Fact(k))
            .Select(k => new RunDifference(stage, k, $"archived {a?.Fact(k) ?? "nothing"}, now {b?.Fact(k) ?? "nothing"}"));
    }

    private static IEnumerable<RunDifference> Stages(ImmutableArray<ChainEntry> one, ImmutableArray<ChainEntry> two)
    {
        foreach (string stage in StageHash.Order)
        {
            Dictionary<string, ChainEntry> a = Items(one, stage), b = Items(two, stage);
            foreach (string item in a.Keys.Concat(b.Keys.Where(k => !a.ContainsKey(k))))
            {
                if (!a.TryGetValue(item, out ChainEntry? old) || !b.TryGetValue(item, out ChainEntry? young))
                    yield return new RunDifference(stage, item, a.ContainsKey(item) ? "only in the archived run" : "only in the second run");
                else if (old.Fact("sha256") != young.Fact("sha256"))
                    yield return new RunDifference(stage, item, $"other values ({old.Fact("rows")} rows archived, {young.Fact("rows")} now)");
            }
        }
    }

    private static Dictionary<string, ChainEntry> Items(ImmutableArray<ChainEntry> chain, string stage)
        => chain.Where(e => e.Kind == RunChain.Stage && e.Fact("stage") == stage).ToDictionary(e => e.Fact("item"), StringComparer.Ordinal);

    private static Dictionary<string, ChainEntry> Named(ImmutableArray<ChainEntry> chain)
        => chain.Where(e => e.Kind == RunChain.Output).ToDictionary(e => e.Fact("name"), StringComparer.Ordinal);

    private static IEnumerable<RunDifference> Answers(string first, string second)
    {
        Dictionary<string, byte[]> one = Questions(first), two = Questions(second);
        foreach (string id in one.Keys.Concat(two.Keys.Where(k => !one.ContainsKey(k))))
        {
            if (!one.TryGetValue(id, out byte[]? a) || !two.TryGetValue(id, out byte[]? b))
                yield return new RunDifference(RunDifference.Answers, id, one.ContainsKey(id) ? "only in the archived run" : "only in the second run");
            else if (!a.AsSpan().SequenceEqual(b))
                yield return new RunDifference(RunDifference.Answers, id, "another answer");
        }
    }

    private static Dictionary<string, byte[]> Questions(string run)
        => ResultsJson.Read(File.ReadAllBytes(Path.Combine(run, ResultsFile))).Questions.ToDictionary(q => q.Id, ResultsJson.Write, StringComparer.Ordinal);

    private static IEnumerable<RunDifference> Outputs(string first, string second, Dictionary<string, ChainEntry> one, Dictionary<string, ChainEntry> two)
    {
        foreach (string name in one.Keys.Union(two.Keys).OrderBy(Rank).ThenBy(n => n, StringComparer.Ordinal))
        {
            if (!one.TryGetValue(name, out ChainEntry? a) || !two.TryGetValue(name, out ChainEntry? b))
                yield return new RunDifference(RunDifference.Output, name, one.ContainsKey(name) ? "only in the archived run" : "only in the second run");
            else if (a.Fact("sha256") != b.Fact("sha256"))
                yield return new RunDifference(RunDifference.Output, name, Where(Path.Combine(first, name), Path.Combine(second, name)));
        }
    }

    private static int Rank(string name)
    {
        int at = Array.FindIndex(FirstOutputs, f => name == f || (f.EndsWith('/') && name.StartsWith(f, StringComparison.Ordinal)));
        return at < 0 ? FirstOutputs.Length : at;
    }

    private static string Where(string first, string second)
    {
        byte[] one = File.ReadAllBytes(first), two = File.ReadAllBytes(second);
        int same = one.AsSpan().CommonPrefixLength(two);
        int line = 1 + one.AsSpan(0, same).Count((byte)'\n');
        return FormattableString.Invariant($"from byte {same + 1} on (line {line}, if it is text)");
    }
}
