using RotationStudy.Statistics.Agreement;
using RotationStudy.Statistics.Curves;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Curves;

public class CurveReliabilityTests
{
    private static readonly BootstrapOptions Quick = new() { Replicates = 200 };

    [Fact]
    public void At_each_point_it_is_the_one_way_intraclass_correlation()
    {
        (CurveSet curves, int[] subjects) = Trials(15, 1);
        CurveReliabilityResult found = CurveReliability.Estimate(curves, subjects, Quick);
        for (int j = 0; j < curves.Points; j++)
        {
            double[] values = [.. Enumerable.Range(0, curves.Rows).Select(i => curves[i, j]!.Value)];
            Close.Relative(UnbalancedIntraclassCorrelation.OneWay(values, Clusters.From(subjects)).Value, found.Correlations[j]!.Value, 1e-10);
        }
    }

    [Fact]
    public void Over_the_arc_components_are_summed_before_they_are_divided()
    {
        (CurveSet curves, int[] subjects) = Trials(15, 2);
        double between = 0, within = 0;
        for (int j = 0; j < curves.Points; j++)
        {
            double[] values = [.. Enumerable.Range(0, curves.Rows).Select(i => curves[i, j]!.Value)];
            UnbalancedIntraclassEstimate one = UnbalancedIntraclassCorrelation.OneWay(values, Clusters.From(subjects));
            between += one.BetweenVariance;
            within += one.WithinVariance;
        }
        CurveReliabilityResult found = CurveReliability.Estimate(curves, subjects, Quick);
        Close.Relative(between / (between + within), found.Overall, 1e-10);
        Close.Relative(Math.Sqrt(within / curves.Points), found.Error, 1e-10);
        Assert.True(found.OverallInterval.Lower < found.Overall && found.Overall < found.OverallInterval.Upper);
        Assert.Equal(30, found.Subjects);
        Assert.Equal(15, found.Clusters);
    }

    [Fact]
    public void Subjects_with_one_curve_are_left_out()
    {
        (CurveSet curves, int[] subjects) = Trials(10, 3);
        int[] some = [.. Enumerable.Range(0, curves.Rows).Where(i => subjects[i] != 0 || i == 0)];
        CurveReliabilityResult found = CurveReliability.Estimate(curves.SelectRows(some), [.. some.Select(i => subjects[i])], Quick);
        Assert.Equal(19, found.Subjects);
    }

    [Fact]
    public void Too_few_subjects_are_refused()
    {
        CurveSet curves = CurveSet.From([0], [[1.0], [2.0], [3.0]], Clusters.EachRow(3));
        Assert.Contains("0 subjects", Assert.Throws<TooFewDataError>(() => CurveReliability.Estimate(curves, [0, 1, 2], Quick)).Message, StringComparison.Ordinal);
    }

    /// <summary>Two knees of each person, three trials of each knee, three points.</summary>
    private static (CurveSet Curves, int[] Subjects) Trials(int persons, ulong seed)
    {
        RandomStream random = new(seed, "trials");
        List<double?[]> rows = [];
        List<int> people = [];
        List<int> knees = [];
        for (int p = 0; p < persons; p++)
        {
            double own = random.Normal();
            for (int side = 0; side < 2; side++)
            {
                double level = own + random.Normal();
                for (int trial = 0; trial < 3; trial++)
                {
                    rows.Add([.. new[] { 1.0, 2, 3 }.Select(j => (double?)((level * j) + (0.7 * random.Normal())))]);
                    people.Add(p);
                    knees.Add((2 * p) + side);
                }
            }
        }
        return (CurveSet.From([0, 10, 20], rows, Clusters.From(people)), [.. knees]);
    }
}
