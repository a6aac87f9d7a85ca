using RotationStudy.Statistics;
using RotationStudy.Statistics.Agreement;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Agreement;

/// <summary>Limits of agreement of pairs of readings, several pairs of one person being of one subject; null with a warning where they cannot be given.</summary>
internal static class PairLimits
{
    internal static LimitsLine? Of(string first, string second, List<ReadingPair> pairs, bool slope, List<string> warnings)
    {
        try
        {
            Clusters people = Clusters.From([.. pairs.Select(p => p.Participant)]);
            AgreementLimits limits = people.Count == pairs.Count
                ? BlandAltman.Estimate([.. pairs.Select(p => p.First)], [.. pairs.Select(p => p.Second)])
                : RepeatedBlandAltman.Paired([.. pairs.Select(p => p.First)], [.. pairs.Select(p => p.Second)], people);
            Estimate? trend = slope ? Slope(pairs, people) : null;
            return new LimitsLine(
                first, second, people.Count, pairs.Count,
                limits.Bias.Value, limits.Bias.Interval.Lower, limits.Bias.Interval.Upper,
                limits.Lower.Value, limits.Lower.Interval.Lower, limits.Lower.Interval.Upper,
                limits.Upper.Value, limits.Upper.Interval.Lower, limits.Upper.Interval.Upper,
                trend?.Value, trend?.Interval.Lower, trend?.Interval.Upper)
            {
                Means = [.. pairs.Select(p => (p.First + p.Second) / 2)],
                Differences = [.. pairs.Select(p => p.First - p.Second)],
            };
        }
        catch (StatisticsError fault)
        {
            warnings.Add($"No limits of agreement of {first} with {second}: {fault.What}.");
            return null;
        }
    }

    /// <summary>Change of the difference per unit of the mean, with variance by person: a bias that grows with the size measured.</summary>
    private static Estimate Slope(List<ReadingPair> pairs, Clusters people)
    {
        DesignMatrix design = DesignMatrix.WithIntercept(("mean", (IReadOnlyList<double>)[.. pairs.Select(p => (p.First + p.Second) / 2)]));
        return LinearRegression.Fit(design, [.. pairs.Select(p => p.First - p.Second)]).ClusterRobust(people).Estimate("mean");
    }
}
