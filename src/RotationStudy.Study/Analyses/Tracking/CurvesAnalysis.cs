using System.Collections.Immutable;
using RotationStudy.Statistics.Curves;
using RotationStudy.Statistics.Resampling;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Tracking;

/// <summary>Curves over an arc: means with simultaneous bands, two groups over the whole arc, summaries, agreement of trials.</summary>
/// <remarks>
/// A side counts once, by the mean of its trials at each point. Points at which a group has too few people for a band are
/// left out and told. The two sides of a person are never exchanged apart, and everything is resampled by person.
/// </remarks>
internal static class CurvesAnalysis
{
    private const int FewestPeople = 5;

    internal static QuestionResult Answer(AnalysisInput input)
    {
        CurveReadings readings = input.Measures.Curves[input.Question.Id];
        List<string> warnings = [];
        ArcCurves curves = ArcCurves.Of(input, readings, Fewest(input), warnings);
        ImmutableArray<TrackingGroup> groups = [.. curves.Groups.Select(g => Group(g, curves, Bands(input, g.Name)))];
        (TrackingDifference? difference, CurvePermutationResult? test) = curves.Groups.Length == 2 ? Differ(input, curves) : default((TrackingDifference?, CurvePermutationResult?));
        ImmutableArray<SummaryLine> summaries = difference is null ? [] : SummaryComparison.Compare(input, curves, warnings);
        TrialAgreement? trials = TrialAgreement.Of(input, readings, curves, warnings);
        TrackingResult result = new(
            input.Question.Id, WithUnit(readings.ArcLabel, readings.ArcUnit), WithUnit(readings.Label, readings.Unit),
            input.Counts() with { Participants = curves.Participants, Units = curves.HasSides ? curves.Set.Rows : 0, Rows = curves.Set.Rows },
            [.. curves.Set.Grid], groups, difference, Method(input, curves));
        return input.Result(CurveWords.Sentence(result, readings, summaries), result.Method) with
        {
            Counts = result.Counts,
            LeftOut = [.. input.Table.LeftOut, .. curves.LeftOut],
            Tables = CurveWords.Tables(result, test, readings, summaries, trials, curves.GroupLabel),
            Warnings = [.. warnings],
            Tracking = result,
            Citations = [Sources.ChangLinOgden, Sources.TelschowSchwartzman, .. test is null ? Array.Empty<string>() : [Sources.WestfallYoung], .. trials is null ? Array.Empty<string>() : [Sources.ShroutFleiss, Sources.Kadaba]],
        };
    }

    /// <summary>People of a group below which no band is drawn and nothing printed.</summary>
    internal static int Fewest(AnalysisInput input) => Math.Max(FewestPeople, input.Protocol.Study.SmallestPrintedCount);

    private static BandOptions Bands(AnalysisInput input, string use)
        => new() { Seed = (ulong)input.Protocol.Study.Seed, Stream = $"band {input.Question.Id} {use}" };

    private static TrackingGroup Group(ArcGroup group, ArcCurves curves, BandOptions options)
    {
        CurveSet own = curves.Set.SelectRows(group.Rows);
        SimultaneousBandResult band = SimultaneousBand.Mean(own, options);
        return new TrackingGroup(
            group.Name, own.Clusters.Count, curves.HasSides ? own.Rows : 0, [.. band.Value], [.. band.Lower], [.. band.Upper], Singles(own));
    }

    /// <summary>Single curves without gaps: a line across a gap would show what nobody measured.</summary>
    private static ImmutableArray<ImmutableArray<double>> Singles(CurveSet curves)
        => [.. Enumerable.Range(0, curves.Rows)
            .Select(r => Enumerable.Range(0, curves.Points).Select(j => curves[r, j]).ToArray())
            .Where(c => Array.TrueForAll(c, v => v is not null))
            .Select(c => c.Select(v => v!.Value).ToImmutableArray())];

    private static (TrackingDifference, CurvePermutationResult) Differ(AnalysisInput input, ArcCurves curves)
    {
        bool[] marked = curves.Marked();
        SimultaneousBandResult band = SimultaneousBand.Difference(curves.Set, marked, Bands(input, "difference"));
        CurvePermutationResult test = CurvePermutation.Test(curves.Set, marked, curves.Slots, new PermutationOptions
        {
            Seed = (ulong)input.Protocol.Study.Seed,
            Stream = $"permutation {input.Question.Id}",
        });
        string label = $"{curves.Groups[0].Name} minus {curves.Groups[1].Name}";
        return (new TrackingDifference(label, [.. band.Value], [.. band.Lower], [.. band.Upper], test.AnyDifference, Apart(test)), test);
    }

    /// <summary>Runs of neighbouring points with an adjusted p value of 5% or less.</summary>
    private static ImmutableArray<ArcStretch> Apart(CurvePermutationResult test)
    {
        ImmutableArray<ArcStretch>.Builder stretches = ImmutableArray.CreateBuilder<ArcStretch>();
        for (int j = 0; j < test.Grid.Count; j++)
        {
            if (test.Adjusted[j] > 0.05)
                continue;
            int start = j;
            while (j + 1 < test.Grid.Count && test.Adjusted[j + 1] <= 0.05)
                j++;
            stretches.Add(new ArcStretch(test.Grid[start], test.Grid[j]));
        }
        return stretches.ToImmutable();
    }

    private static string WithUnit(string label, string? unit) => unit is null ? label : $"{label}, {unit}";

    private static string Method(AnalysisInput input, ArcCurves curves)
    {
        string one = input.Protocol.Study.UnitWords?.One ?? input.Protocol.Study.ParticipantWords.One;
        string person = input.Protocol.Study.ParticipantWords.One;
        string compared = curves.Groups.Length == 2
            ? $" Groups: difference of means with a band of its own, and a permutation test that exchanges the labels of whole {input.Protocol.Study.ParticipantWords.Many} (both sides together), 9,999 times, by the largest difference over its standard error anywhere on the arc."
            : string.Empty;
        return $"Mean curve over {input.Protocol.Study.UnitWords?.Many ?? input.Protocol.Study.ParticipantWords.Many}, each by the mean of its trials at every point; variance by {person}; "
            + $"95% band for the whole curve at once at the points of the arc, from 2,000 draws of random signs per {person}, studentised.{compared} A {one} with a gap counts where it has values.";
    }
}
