using RotationStudy.Statistics;
using RotationStudy.Statistics.Agreement;
using RotationStudy.Statistics.Prediction;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.CoverageStudies;

/// <summary>Intervals of agreement: intraclass correlations, measurement error, limits of agreement, kappa, method lines, area under the curve.</summary>
/// <remarks>Subjects have variance 1, raters 0.1 and residuals 0.3; methods differ by 0.2 with error variances 0.15 and 0.25.</remarks>
internal static class AgreementStudies
{
    private const double RaterVariance = 0.1;
    private const double ResidualVariance = 0.3;
    private const double Shift = 0.2;
    private const double FirstError = 0.15;
    private const double SecondError = 0.25;
    private const double SubjectByMethod = 0.1;
    private const int Raters = 3;

    private static readonly double AgreementTruth = 1 / (1 + RaterVariance + ResidualVariance);
    private static readonly double ConsistencyTruth = 1 / (1 + ResidualVariance);
    private static readonly double UpperLimit = Shift + (1.959963984540054 * Math.Sqrt(FirstError + SecondError));
    private static readonly double RepeatedUpperLimit = Shift + (1.959963984540054 * Math.Sqrt(FirstError + SecondError + SubjectByMethod));

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        foreach (int persons in new[] { 30, 200 })
        {
            studies.Add(new("ICC(2,1), 3 raters drawn anew", persons, AgreementTruth, r => Icc(r, persons, IntraclassForm.AgreementSingle, 3)));
            studies.Add(new("ICC(2,1), 3 raters drawn anew, generalized interval", persons, AgreementTruth, r => Generalized(r, persons)));
            studies.Add(new("ICC(2,1), 10 raters drawn anew", persons, AgreementTruth, r => Icc(r, persons, IntraclassForm.AgreementSingle, 10)));
            studies.Add(new("ICC(3,1), 3 raters", persons, ConsistencyTruth, r => Icc(r, persons, IntraclassForm.ConsistencySingle, 3)));
            studies.Add(new("ICC(1,1), 1 to 4 ratings", persons, ConsistencyTruth, r => Unbalanced(r, persons)));
            studies.Add(new("SEM of consistency, 3 raters", persons, Math.Sqrt(ResidualVariance), r => Error(r, persons)));
            studies.Add(new("upper limit of agreement, single, exact", persons, UpperLimit, r => Single(r, persons, LimitInterval.Exact)));
            studies.Add(new("upper limit of agreement, single, approximate", persons, UpperLimit, r => Single(r, persons, LimitInterval.Approximate)));
            studies.Add(new("upper limit of agreement, repeated pairs, MOVER", persons, RepeatedUpperLimit, r => Repeated(r, persons, paired: true)));
            studies.Add(new("upper limit of agreement, replicates, MOVER", persons, RepeatedUpperLimit, r => Repeated(r, persons, paired: false)));
            studies.Add(new("kappa, two raters, half positive", persons, 0.64, r => Kappa(r, persons)));
            studies.Add(new("Deming slope, jackknife", persons, 1, r => Slope(r, persons)));
            studies.Add(new("area under the curve, two knees per person", persons, AreaTruth, r => Area(r, persons)));
        }
        return studies;
    }

    // Score = event + person + knee effects of variances 0.5 and 0.5: P(N(1, 2) > 0) between persons.
    private static double AreaTruth => Statistics.Distributions.StandardNormal.LowerTail(1 / Math.Sqrt(2));

    private static Estimate Icc(Random random, int persons, IntraclassForm form, int raters)
    {
        IntraclassEstimate found = IntraclassCorrelation.Estimate(RatingTable.From(Ratings(random, persons, raters)), form);
        return AsEstimate("ICC", found.Value, found.Interval);
    }

    private static Estimate Generalized(Random random, int persons)
    {
        RatingTable table = RatingTable.From(Ratings(random, persons, Raters));
        return AsEstimate("ICC", IntraclassCorrelation.Estimate(table, IntraclassForm.AgreementSingle).Value, GeneralizedIntraclassInterval.Agreement(table));
    }

    private static Estimate Error(Random random, int persons)
    {
        MeasurementErrorEstimate found = MeasurementError.Consistency(RatingTable.From(Ratings(random, persons, Raters)));
        return AsEstimate("SEM", found.StandardErrorOfMeasurement, found.StandardErrorInterval);
    }

    private static double[][] Ratings(Random random, int persons, int raters)
    {
        RandomStream stream = Open(random);
        double[] subject = Normals(stream, persons, 1);
        double[][] ratings = new double[raters][];
        for (int j = 0; j < raters; j++)
        {
            double rater = Math.Sqrt(RaterVariance) * stream.Normal();
            ratings[j] = [.. subject.Select(s => s + rater + (Math.Sqrt(ResidualVariance) * stream.Normal()))];
        }
        return ratings;
    }

    private static Estimate Unbalanced(Random random, int persons)
    {
        RandomStream stream = Open(random);
        List<double> ratings = [];
        List<int> subjects = [];
        for (int i = 0; i < persons; i++)
        {
            double subject = stream.Normal();
            for (int k = stream.Below(4); k >= 0; k--)
            {
                ratings.Add(subject + (Math.Sqrt(ResidualVariance) * stream.Normal()));
                subjects.Add(i);
            }
        }
        UnbalancedIntraclassEstimate found = UnbalancedIntraclassCorrelation.OneWay(ratings, Clusters.From(subjects));
        return AsEstimate("ICC", found.Value, found.Interval);
    }

    private static Estimate Single(Random random, int persons, LimitInterval kind)
    {
        RandomStream stream = Open(random);
        double[] truth = Normals(stream, persons, 1);
        AgreementLimits found = BlandAltman.Estimate(Measure(stream, truth, Shift, FirstError), Measure(stream, truth, 0, SecondError), kind);
        return AsEstimate("upper limit", found.Upper.Value, found.Upper.Interval);
    }

    private static Estimate Repeated(Random random, int persons, bool paired)
    {
        RandomStream stream = Open(random);
        List<double> first = [];
        List<double> second = [];
        List<int> subjects = [];
        for (int i = 0; i < persons; i++)
        {
            double truth = stream.Normal();
            double own = Math.Sqrt(SubjectByMethod) * stream.Normal();
            for (int k = 1 + stream.Below(3); k >= 0; k--)
            {
                double now = paired ? truth + stream.Normal() : truth;
                first.Add(now + own + Shift + (Math.Sqrt(FirstError) * stream.Normal()));
                second.Add(now + (Math.Sqrt(SecondError) * stream.Normal()));
                subjects.Add(i);
            }
        }
        Clusters clusters = Clusters.From(subjects);
        AgreementLimits found = paired ? RepeatedBlandAltman.Paired(first, second, clusters) : RepeatedBlandAltman.Unpaired(first, clusters, second, clusters);
        return AsEstimate("upper limit", found.Upper.Value, found.Upper.Interval);
    }

    /// <summary>Each rater errs with probability 0.1: agreement 0.82, by chance 0.5, kappa 0.64.</summary>
    private static Estimate Kappa(Random random, int persons)
    {
        RandomStream stream = Open(random);
        int[] truth = [.. Enumerable.Range(0, persons).Select(_ => stream.Below(2))];
        int[] Rate() => [.. truth.Select(t => stream.Bernoulli(0.1) ? 1 - t : t)];
        return WeightedKappa.Estimate(Rate(), Rate(), AgreementWeights.Identity(2)).Value;
    }

    private static Estimate Slope(Random random, int persons)
    {
        RandomStream stream = Open(random);
        double[] truth = Normals(stream, persons, 1);
        return DemingRegression.Fit(Measure(stream, truth, Shift, FirstError), Measure(stream, truth, 0, SecondError), SecondError / FirstError).Slope;
    }

    private static Estimate Area(Random random, int persons)
    {
        RandomStream stream = Open(random);
        bool[] outcome = new bool[2 * persons];
        double[] score = new double[2 * persons];
        int[] cluster = new int[2 * persons];
        for (int i = 0; i < persons; i++)
        {
            double risk = stream.Bernoulli(0.5) ? 0.5 : 0.1;
            double shared = Math.Sqrt(0.5) * stream.Normal();
            for (int row = 2 * i; row < (2 * i) + 2; row++)
            {
                cluster[row] = i;
                outcome[row] = stream.Bernoulli(risk);
                score[row] = (outcome[row] ? 1 : 0) + shared + (Math.Sqrt(0.5) * stream.Normal());
            }
        }
        AreaEstimate found = AreaUnderCurve.Estimate(outcome, score, Clusters.From(cluster));
        return new Estimate("area", found.Value, found.StandardError, double.PositiveInfinity, found.Interval, found.PValue);
    }

    private static RandomStream Open(Random random) => new((ulong)random.NextInt64(), "agreement");

    private static double[] Normals(RandomStream stream, int count, double sd) => [.. Enumerable.Range(0, count).Select(_ => sd * stream.Normal())];

    private static double[] Measure(RandomStream stream, double[] truth, double shift, double errorVariance)
        => [.. truth.Select(t => t + shift + (Math.Sqrt(errorVariance) * stream.Normal()))];

    private static Estimate AsEstimate(string name, double value, ConfidenceInterval interval)
        => new(name, value, (interval.Upper - interval.Lower) / (2 * 1.959963984540054), double.PositiveInfinity, interval, 1);
}
