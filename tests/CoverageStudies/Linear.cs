using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.CoverageStudies;

/// <summary>Cluster-robust linear regression on two knees per person: does the 95% interval of a slope hold the truth?</summary>
/// <remarks>
/// Outcome = 0.5 exposure + person effect + knee error, both with variance one, knee errors with standard deviation growing with the size of the exposure. The
/// exposure is either a property of the person with a long right tail (few persons carry most of the leverage: the hard case), a
/// balanced property of the person (sex), or a property of the knee.
/// </remarks>
internal static class Linear
{
    private const double Slope = 0.5;

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        (string Name, Func<Random, double> Person, Func<Random, double> Knee)[] exposures =
        [
            ("balanced exposure of the person", r => r.Next(2), _ => 0),
            ("skewed exposure of the person", r => Math.Exp(Normal(r)), _ => 0),
            ("exposure of the knee", _ => 0, Normal),
        ];
        foreach ((string name, Func<Random, double> person, Func<Random, double> knee) in exposures)
        {
            foreach (ClusterVariance variance in new[] { ClusterVariance.CR1, ClusterVariance.CR2 })
            {
                foreach (int persons in new[] { 15, 30, 50, 200, 1000 })
                    studies.Add(new CoverageStudy($"linear, {variance}, {name}", persons, Slope, random => Replicate(random, persons, variance, person, knee)));
            }
        }
        return studies;
    }

    private static Estimate Replicate(Random random, int persons, ClusterVariance variance, Func<Random, double> person, Func<Random, double> knee)
    {
        double[] x = new double[2 * persons];
        double[] y = new double[2 * persons];
        int[] cluster = new int[2 * persons];
        for (int i = 0; i < persons; i++)
        {
            double shared = person(random);
            double effect = Normal(random);
            for (int side = 0; side < 2; side++)
            {
                int row = (2 * i) + side;
                cluster[row] = i;
                x[row] = shared + knee(random);
                y[row] = (Slope * x[row]) + effect + (Math.Sqrt(0.5 + (0.5 * Math.Min(4, x[row] * x[row]))) * Normal(random));
            }
        }
        return LinearRegression.Fit(DesignMatrix.WithIntercept(("exposure", x)), y).ClusterRobust(Clusters.From(cluster), variance).Estimate("exposure");
    }

    private static double Normal(Random random)
        => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
