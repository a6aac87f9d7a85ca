using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Agreement;

/// <summary>Agreement of raters, of sessions and with a reference.</summary>
/// <remarks>
/// <para>The two sides of a person are no two subjects. Correlations and errors are therefore given for each side by itself,
/// where subjects are persons; limits of agreement take both sides as pairs of one subject. Correlations between raters use the
/// first session and the subjects whom all raters read; those within a rater use the first two sessions.</para>
/// </remarks>
internal static class AgreementAnalysis
{
    private const int FewestSubjects = 3;

    internal static QuestionResult Answer(AnalysisInput input)
    {
        ReadingSet readings = input.Measures.Readings[input.Question.Id];
        ReadingTables tables = new(readings, input.Measures.Keys);
        List<string> warnings = [];
        ImmutableArray<ReliabilityLine> reliability = [.. BetweenRaters(input, tables, warnings), .. WithinRaters(input, tables, warnings)];
        ImmutableArray<LimitsLine> limits = [.. Limits(input, tables, warnings)];
        if (reliability.IsEmpty && limits.IsEmpty)
            throw new TooFewDataError("no subject was read twice", "Let two raters read, or one rater at two sessions.");
        AgreementResult result = new(readings.Unit, reliability, limits);
        int read = readings.Rows.Select(r => (r.Participant, r.Side)).Distinct().Count();
        return input.Result(AgreementTables.Sentence(result, readings), Model(input, readings)) with
        {
            Counts = new AnalysisCounts(
                readings.Rows.Select(r => r.Participant).Distinct().Count(),
                input.Question.Rows.HasSides() ? read : 0, read, 0, 0, null),
            LeftOut = [.. LeftOut(input, readings, read)],
            Tables = AgreementTables.Of(result),
            Warnings = [.. warnings],
            Agreement = result,
            Citations = [Sources.ShroutFleiss, Sources.McGrawWong, Sources.Weerahandi, Sources.Weir, Sources.BlandAltmanRepeated],
        };
    }

    private static IEnumerable<ReasonCount> LeftOut(AnalysisInput input, ReadingSet readings, int read)
    {
        if (read == input.Table.Rows)
            yield break;
        HashSet<(int, int)> units = [.. readings.Rows.Select(r => (r.Participant, r.Side))];
        RowKey[] without = [.. input.Table.Keys.Where(k => !units.Contains((k.Participant, k.Side)))];
        yield return new ReasonCount("no reading", without.Length, without.Select(k => k.Participant).Distinct().Count());
    }

    private static IEnumerable<ReliabilityLine> BetweenRaters(AnalysisInput input, ReadingTables tables, List<string> warnings)
    {
        if (tables.Raters.Length < 2)
            yield break;
        foreach ((string group, HashSet<int>? people) in Groups(input))
        {
            for (int side = 0; side < tables.Sides.Length; side++)
            {
                CompleteTable byAll = tables.ByRater(side, people);
                // Raters who took turns leave few subjects, or none, that all of them read.
                ReliabilityLine? line = byAll.Subjects >= Fewest(input)
                    ? Reliability.BetweenRaters(group, tables.Sides[side], byAll, Fewest(input), warnings)
                    : Reliability.BetweenAnyRaters(group, tables.Sides[side], tables.FirstSession(side, people), Fewest(input), warnings);
                if (line is not null)
                    yield return line;
            }
        }
    }

    private static IEnumerable<ReliabilityLine> WithinRaters(AnalysisInput input, ReadingTables tables, List<string> warnings)
    {
        if (tables.Sessions < 2)
            yield break;
        for (int rater = 0; rater < tables.Raters.Length; rater++)
        {
            for (int side = 0; side < tables.Sides.Length; side++)
            {
                if (Reliability.WithinRater(tables.RaterLabel(rater), tables.Sides[side], tables.BySession(side, rater), Fewest(input), warnings) is { } line)
                    yield return line;
            }
        }
    }

    private static IEnumerable<LimitsLine> Limits(AnalysisInput input, ReadingTables tables, List<string> warnings)
    {
        for (int a = 0; a < tables.Raters.Length; a++)
        {
            for (int b = a + 1; b < tables.Raters.Length; b++)
            {
                if (PairLimits.Of(tables.RaterLabel(a), tables.RaterLabel(b), tables.Pairs(a, b), slope: false, warnings) is { } line)
                    yield return line;
            }
        }
        for (int rater = 0; rater < tables.Raters.Length && tables.Sessions > 1; rater++)
        {
            string label = tables.RaterLabel(rater);
            if (PairLimits.Of($"{label}, {tables.SessionLabel(0)}", $"{label}, {tables.SessionLabel(1)}", tables.SessionPairs(rater), slope: false, warnings) is { } line)
                yield return line;
        }
        if (input.Question.Reference is not { } reference)
            yield break;
        MeasureColumn measure = input.Measures[reference];
        foreach ((string group, HashSet<int>? people) in Groups(input))
        {
            for (int rater = 0; rater < tables.Raters.Length; rater++)
            {
                List<ReadingPair> pairs = tables.PairsWith(measure, rater, people);
                if (people is not null && pairs.Select(p => p.Participant).Distinct().Count() < Fewest(input))
                    warnings.Add(FormattableString.Invariant($"No limits of agreement of {tables.RaterLabel(rater)} with {measure.Definition.Label}, {group}: fewer than {Fewest(input)} people have both."));
                else if (PairLimits.Of(tables.RaterLabel(rater), measure.Definition.Label, pairs, slope: true, warnings) is { } line)
                    yield return line with { Group = group };
            }
        }
    }

    /// <summary>Everybody, then each group that the question names.</summary>
    private static IEnumerable<(string Group, HashSet<int>? People)> Groups(AnalysisInput input)
    {
        yield return ("all", null);
        if (input.Question.GroupBy is not { } by)
            yield break;
        MeasureColumn measure = input.Measures[by];
        ImmutableArray<CodeDefinition> codes = measure.IsCoded ? measure.Codes : [new("0", "no"), new("1", "yes")];
        for (int code = 0; code < codes.Length; code++)
        {
            HashSet<int> people = [.. Enumerable.Range(0, measure.Index.Rows)
                .Where(r => measure.HasValue(r) && (int)measure.Values[r] == code).Select(r => measure.Index.Keys[r].Participant)];
            if (people.Count > 0)
                yield return (codes[code].Meaning, people);
        }
    }

    /// <summary>Fewer people than this are neither estimated from nor printed.</summary>
    private static int Fewest(AnalysisInput input) => Math.Max(FewestSubjects, input.Protocol.Study.SmallestPrintedCount);

    private static string Model(AnalysisInput input, ReadingSet readings)
        => $"Two-way analysis of variance of {Sentences.LowerFirst(readings.Label)} by subject and rater (or session), each side by itself, complete subjects; "
            + "between raters ICC(2,1) with its generalised interval (where raters took turns, ICC(1,1) of subjects that any two read), within a rater ICC(1,1), for consistency ICC(3,1), both with exact intervals; error with systematic differences included; "
            + $"limits of agreement with both sides as pairs of one {input.Protocol.Study.ParticipantWords.One}.";
}
