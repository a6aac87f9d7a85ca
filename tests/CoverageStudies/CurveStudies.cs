using RotationStudy.Statistics;
using RotationStudy.Statistics.Curves;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.CoverageStudies;

/// <summary>Simultaneous bands, the permutation over the arc, and the agreement of trials, on knees in persons.</summary>
/// <remarks>
/// Curves over ten points: person effect 1, knee effect 1, and an effect of both that falls with exp(-flexion / 20); reading
/// error 0.4. Two groups differ by 4 exp(-flexion / 20), or not at all. A row of a band counts as covered when the band holds
/// the whole true curve; its "estimate" is the largest deviation in standard errors, and its truth is written as zero. A row
/// of a test counts as covered when the test does not reject at 5%.
/// </remarks>
internal static class CurveStudies
{
    private const double ReadingSd = 0.4;
    private const double TrialSd = 0.5;
    private static readonly double[] Arc = [0, 10, 20, 30, 40, 50, 60, 70, 80, 90];
    private static readonly double[] Falling = [.. Arc.Select(a => Math.Exp(-a / 20))];

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        foreach (int persons in new[] { 10, 20, 60, 200 })
            studies.Add(new("band of a mean curve", persons, 0, r => Mean(r, persons)));
        foreach (int persons in new[] { 20, 60, 200 })
        {
            studies.Add(new("band of a difference, half of the persons in each group", persons, 0, r => Difference(r, persons, oneSide: false, spread: 1)));
            studies.Add(new("band of a difference, first group twice as spread", persons, 0, r => Difference(r, persons, oneSide: false, spread: 2)));
            studies.Add(new("band of a difference, one knee of each person in the first group", persons, 0, r => Difference(r, persons, oneSide: true, spread: 1)));
            studies.Add(new("permutation over the arc, no difference", persons, 0, r => Permutation(r, persons, spread: 1)));
            studies.Add(new("permutation over the arc, no difference, first group twice as spread", persons, 0, r => Permutation(r, persons, spread: 2)));
        }
        foreach (int persons in new[] { 30, 100 })
        {
            studies.Add(new("ICC of one trial over the arc, BCa by person", persons, IccTruth, r => Trials(r, persons, t => (t.Overall, t.OverallInterval))));
            studies.Add(new("error of one trial over the arc, BCa by person", persons, ErrorTruth, r => Trials(r, persons, t => (t.Error, t.ErrorInterval))));
        }
        return studies;
    }

    private static double Within => (TrialSd * TrialSd) + (ReadingSd * ReadingSd);

    private static double ErrorTruth => Math.Sqrt(Within);

    // Variance between knees at a point: (1 + 1)(1 + falling^2), averaged over the arc.
    private static double IccTruth => Falling.Average(f => 2 * (1 + (f * f))) is var between ? between / (between + Within) : 0;

    private static Estimate Mean(Random random, int persons)
    {
        RandomStream stream = Open(random);
        CurveSet curves = Knees(stream, persons, (_, _) => (0, 1));
        return Largest(SimultaneousBand.Mean(curves, Bands(stream)), Arc.Select(_ => 0.0));
    }

    private static Estimate Difference(Random random, int persons, bool oneSide, double spread)
    {
        RandomStream stream = Open(random);
        bool Marked(int person, int side) => oneSide ? side == person % 2 : person < persons / 2;
        CurveSet curves = Knees(stream, persons, (p, s) => Marked(p, s) ? (4, spread) : (0, 1));
        bool[] marked = [.. Enumerable.Range(0, 2 * persons).Select(i => Marked(i / 2, i % 2))];
        return Largest(SimultaneousBand.Difference(curves, marked, Bands(stream)), Falling.Select(f => 4 * f));
    }

    private static Estimate Permutation(Random random, int persons, double spread)
    {
        RandomStream stream = Open(random);
        CurveSet curves = Knees(stream, persons, (p, _) => (0, p < persons / 3 ? spread : 1));
        bool[] marked = [.. Enumerable.Range(0, 2 * persons).Select(i => i / 2 < persons / 3)];
        int[] sides = [.. Enumerable.Range(0, 2 * persons).Select(i => i % 2)];
        double p = CurvePermutation.Test(curves, marked, sides, new PermutationOptions { Permutations = 499, Seed = stream.Bits(), Threads = 1 }).AnyDifference;
        return new Estimate("p", p, 0, double.PositiveInfinity, p > 0.05 ? new ConfidenceInterval(-1, 1, 0.95) : new ConfidenceInterval(1, 2, 0.95), p);
    }

    private static Estimate Trials(Random random, int persons, Func<CurveReliabilityResult, (double Value, ConfidenceInterval Interval)> take)
    {
        RandomStream stream = Open(random);
        List<IReadOnlyList<double?>> rows = [];
        List<int> people = [];
        List<int> knees = [];
        for (int p = 0; p < persons; p++)
        {
            (double level, double fall) own = (stream.Normal(), stream.Normal());
            for (int side = 0; side < 2; side++)
            {
                (double level, double fall) knee = (own.level + stream.Normal(), own.fall + stream.Normal());
                for (int trial = 0; trial < 3; trial++)
                {
                    double shift = TrialSd * stream.Normal();
                    rows.Add([.. Falling.Select(f => (double?)(knee.level + (knee.fall * f) + shift + (ReadingSd * stream.Normal())))]);
                    people.Add(p);
                    knees.Add((2 * p) + side);
                }
            }
        }
        (double value, ConfidenceInterval interval) = take(CurveReliability.Estimate(
            CurveSet.From(Arc, rows, Clusters.From(people)), knees, new BootstrapOptions { Replicates = 999, Seed = stream.Bits(), Threads = 1 }));
        return new Estimate("trials", value, (interval.Upper - interval.Lower) / (2 * 1.959963984540054), double.PositiveInfinity, interval, 1);
    }

    private static CurveSet Knees(RandomStream stream, int persons, Func<int, int, (double Fall, double Spread)> setting)
    {
        List<IReadOnlyList<double?>> rows = [];
        for (int p = 0; p < persons; p++)
        {
            (double level, double fall) own = (stream.Normal(), stream.Normal());
            for (int side = 0; side < 2; side++)
            {
                (double fall, double spread) = setting(p, side);
                (double level, double fall) knee = (own.level + stream.Normal(), own.fall + stream.Normal());
                rows.Add([.. Falling.Select(f => (double?)((fall * f) + (spread * (knee.level + (knee.fall * f) + (ReadingSd * stream.Normal())))))]);
            }
        }
        return CurveSet.From(Arc, rows, Clusters.From(Enumerable.Range(0, 2 * persons).Select(i => i / 2).ToArray()));
    }

    private static Estimate Largest(SimultaneousBandResult band, IEnumerable<double> truth)
    {
        double largest = truth.Select((t, j) => Math.Abs(band.Value[j] - t) / band.StandardError[j]).Max();
        return new Estimate("band", largest, 1, double.PositiveInfinity, new ConfidenceInterval(largest - band.CriticalValue, largest + band.CriticalValue, band.Level), 1);
    }

    private static BandOptions Bands(RandomStream stream) => new() { Draws = 999, Seed = stream.Bits(), Threads = 1 };

    private static RandomStream Open(Random random) => new((ulong)random.NextInt64(), "curves");
}
