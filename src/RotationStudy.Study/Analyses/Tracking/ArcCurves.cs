using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Curves;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses.Tracking;

/// <summary>The mean curve of each row of the question's table, in groups, on the points where every group has enough people.</summary>
internal sealed record ArcCurves(
    CurveSet Set, ImmutableArray<RowKey> Keys, ImmutableArray<int> Slots, ImmutableArray<ArcGroup> Groups, string? GroupLabel, ImmutableArray<ReasonCount> LeftOut)
{
    internal int Participants => Set.Clusters.Count;

    internal bool HasSides => Slots.Any(s => s >= 0);

    /// <summary>Whether each curve belongs to the first group.</summary>
    internal bool[] Marked()
    {
        bool[] marked = new bool[Set.Rows];
        foreach (int row in Groups[0].Rows)
            marked[row] = true;
        return marked;
    }

    /// <summary>Gathers the curves.</summary>
    /// <exception cref="TooFewDataError">No curve, a group without enough people, or no point at which all groups have enough.</exception>
    internal static ArcCurves Of(AnalysisInput input, CurveReadings readings, int fewest, List<string> warnings)
    {
        Dictionary<(int, int), ImmutableArray<double?>> means = readings.MeanCurves();
        int[] rows = [.. Enumerable.Range(0, input.Table.Rows).Where(r => means.ContainsKey((input.Table.Keys[r].Participant, input.Table.Keys[r].Side)))];
        if (rows.Length == 0)
            throw new TooFewDataError("no row of this question has a curve", "Look at the table of curves in the export.");
        ImmutableArray<RowKey> keys = [.. rows.Select(r => input.Table.Keys[r])];
        ImmutableArray<double?>[] curves = [.. keys.Select(k => means[(k.Participant, k.Side)])];
        ImmutableArray<ArcGroup> groups = GroupsOf(input, rows);
        foreach (ArcGroup group in groups)
        {
            int people = group.Rows.Select(r => keys[r].Participant).Distinct().Count();
            if (people < fewest)
                throw new TooFewDataError($"fewer than {fewest} {input.Protocol.Study.ParticipantWords.Many} of '{group.Name}' have a curve", "Wait for more, or leave 'group_by' out.");
        }
        int[] points = [.. Enumerable.Range(0, readings.Grid.Length).Where(j => groups.All(g => PeopleAt(g, j) >= fewest))];
        if (points.Length == 0)
            throw new TooFewDataError($"at no point of the arc do all groups have {fewest} {input.Protocol.Study.ParticipantWords.Many}", "Record curves at the same points in everybody.");
        if (points.Length < readings.Grid.Length)
        {
            IEnumerable<string> dropped = readings.Grid.Where((_, j) => !points.Contains(j)).Select(g => g.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture));
            warnings.Add($"Points of the arc with fewer than {fewest} {input.Protocol.Study.ParticipantWords.Many} in a group are left out: {Sentences.List(dropped)}.");
        }
        CurveSet set = CurveSet.From(
            [.. points.Select(j => readings.Grid[j])],
            [.. curves.Select(c => (IReadOnlyList<double?>)[.. points.Select(j => c[j])])],
            Clusters.From(keys.Select(k => k.Participant).ToArray()));
        return new ArcCurves(set, keys, [.. keys.Select(k => k.Side)], groups, GroupLabelOf(input), [.. LeftOutOf(input.Table, keys)]);

        int PeopleAt(ArcGroup group, int point) => group.Rows.Where(r => curves[r][point] is not null).Select(r => keys[r].Participant).Distinct().Count();
    }

    /// <summary>One group of all, or the two that the question names: the second code or yes first, so that the difference reads "with minus without".</summary>
    private static ImmutableArray<ArcGroup> GroupsOf(AnalysisInput input, int[] rows)
    {
        if (input.Question.GroupBy is not { } by)
            return [new ArcGroup("all", [.. Enumerable.Range(0, rows.Length)])];
        MeasureColumn measure = input.Measures[by];
        ImmutableArray<double> values = input.Values(by);
        ImmutableArray<CodeDefinition> codes = measure.IsCoded ? measure.Codes : [new("0", "no"), new("1", "yes")];
        return [Group(1), Group(0)];

        ArcGroup Group(int code) => new(NameOf(codes[code], measure), [.. Enumerable.Range(0, rows.Length).Where(i => (int)values[rows[i]] == code)]);
    }

    /// <summary>A bare yes or no says nothing beside a curve.</summary>
    private static string NameOf(CodeDefinition code, MeasureColumn measure)
        => code.Meaning is "yes" or "no" ? $"{measure.Definition.Label}: {code.Meaning}" : code.Meaning;

    private static string? GroupLabelOf(AnalysisInput input) => input.Question.GroupBy is { } by ? input.Measures[by].Definition.Label : null;

    private static IEnumerable<ReasonCount> LeftOutOf(AnalysisTable table, ImmutableArray<RowKey> with)
    {
        if (table.Rows == with.Length)
            yield break;
        HashSet<RowKey> used = [.. with];
        RowKey[] without = [.. table.Keys.Where(k => !used.Contains(k))];
        yield return new ReasonCount("no curve recorded", without.Length, without.Select(k => k.Participant).Distinct().Count());
    }
}

/// <summary>A group of curves.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Rows">Rows of the set of curves.</param>
internal sealed record ArcGroup(string Name, ImmutableArray<int> Rows);
