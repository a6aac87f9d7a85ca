using RotationStudy.Statistics;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.CoverageStudies;

/// <summary>Hazard ratios, survival curves and cumulative incidences on two dependent sides per person.</summary>
internal static class SurvivalCoverage
{
    private static readonly int[] Sizes = [30, 50, 200, 1000];

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        foreach (int persons in Sizes)
        {
            foreach (CoxClusterVariance variance in Enum.GetValues<CoxClusterVariance>())
            {
                studies.Add(Cox(persons, 0.5, shared: false, variance));
                studies.Add(Cox(persons, 0.5, shared: true, variance));
            }
            studies.Add(KaplanMeierAt(persons, clustered: true));
            studies.Add(KaplanMeierAt(persons, clustered: false));
            studies.Add(AalenJohansenAt(persons));
            studies.Add(RestrictedMeanDifference(persons));
            studies.Add(FineGrayNull(persons));
        }
        return studies;
    }

    private static CoverageStudy Cox(int persons, double beta, bool shared, CoxClusterVariance variance)
    {
        string column = shared ? "covariate of the person" : "covariate of the side";
        return new CoverageStudy($"Cox log hazard ratio, {column}, {variance}", persons, beta, random =>
        {
            PairedSurvival data = new(random, persons, beta, shared);
            CoxOptions options = new() { ClusterVariance = variance };
            return CoxRegression.Fit(data.Times, DesignMatrix.FromColumns(("x", data.X)), data.Persons, options: options).Coefficients.Estimate(0);
        });
    }

    private static CoverageStudy KaplanMeierAt(int persons, bool clustered)
    {
        const double Time = 0.4;
        string name = clustered ? "Kaplan-Meier at 0.4, log-log, clustered" : "Kaplan-Meier at 0.4, log-log, sides taken as independent (for contrast)";
        return new CoverageStudy(name, persons, Math.Exp(-Time), random =>
        {
            PairedSurvival data = new(random, persons, 0, shared: false);
            SurvivalStep step = KaplanMeier.Estimate(data.Times, clustered ? data.Persons : null).At(Time);
            return new Estimate("S", step.Survival, step.StandardError, double.PositiveInfinity, step.Interval, 1);
        });
    }

    // Cause 1 with probability 0.6, drawn apart from the time: its incidence is 0.6 (1 - exp(-t)).
    private static CompetingTimes Competing(Random random, PairedSurvival data)
        => CompetingTimes.RightCensored(data.Time, [.. data.Event.Select(e => !e ? 0 : random.NextDouble() < 0.6 ? 1 : 2)]);

    private static CoverageStudy AalenJohansenAt(int persons)
    {
        const double Time = 0.4;
        return new CoverageStudy("cumulative incidence at 0.4, log-log, clustered", persons, 0.6 * (1 - Math.Exp(-Time)), random =>
        {
            PairedSurvival data = new(random, persons, 0, shared: false);
            IncidenceStep step = AalenJohansen.Estimate(Competing(random, data), 1, data.Persons).At(Time);
            return new Estimate("F", step.Incidence, step.StandardError, double.PositiveInfinity, step.Interval, 1);
        });
    }

    private static CoverageStudy RestrictedMeanDifference(int persons)
        => new("restricted mean to 0.6, difference between sides of a person, clustered", persons, 0, random =>
        {
            PairedSurvival data = new(random, persons, 0, shared: false);
            string[] side = [.. data.Person.Select((_, i) => i % 2 == 0 ? "left" : "right")];
            return RestrictedMean.Compare(data.Times, side, 0.6, data.Persons).Difference;
        });

    private static CoverageStudy FineGrayNull(int persons)
        => new("Fine-Gray log hazard ratio, covariate of the person, no effect, clustered", persons, 0, random =>
        {
            PairedSurvival data = new(random, persons, 0, shared: true);
            return FineGray.Fit(Competing(random, data), 1, DesignMatrix.FromColumns(("x", data.X)), data.Persons).Coefficients.Estimate(0);
        });
}
