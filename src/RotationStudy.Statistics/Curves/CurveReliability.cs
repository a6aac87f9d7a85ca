using System.Globalization;
using RotationStudy.Statistics.Agreement;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Curves;

/// <summary>Agreement of repeated curves of one subject over the grid.</summary>
/// <param name="Grid">The grid.</param>
/// <param name="Correlations">Intraclass correlation of one curve at each point; null where values do not vary.</param>
/// <param name="Intervals">Their intervals, each point by itself.</param>
/// <param name="Overall">Intraclass correlation over the grid: variance between subjects over all variance, both summed over the grid.</param>
/// <param name="OverallInterval">Its interval.</param>
/// <param name="Error">Standard error of measurement of one curve: root of the mean variance within subjects over the grid.</param>
/// <param name="ErrorInterval">Its interval.</param>
/// <param name="Subjects">Subjects with two curves or more.</param>
/// <param name="Curves">Curves of these.</param>
/// <param name="Clusters">Clusters of these: what was resampled.</param>
public sealed record CurveReliabilityResult(
    IReadOnlyList<double> Grid, IReadOnlyList<double?> Correlations, IReadOnlyList<ConfidenceInterval> Intervals,
    double Overall, ConfidenceInterval OverallInterval, double Error, ConfidenceInterval ErrorInterval,
    int Subjects, int Curves, int Clusters);

/// <summary>Intraclass correlation of repeated curves, point by point and over the grid.</summary>
/// <remarks>
/// <para>One-way model at each point: value = mean + subject + residual, variance components by analysis of variance with
/// unequal numbers of curves; ICC(1,1), in which shifts from one curve to the next count as error. Over the grid the
/// components are summed before they are divided, so that points where subjects differ much weigh more. A component between
/// subjects may come out below zero and then counts as it is.</para>
/// <para>Intervals by bootstrap of whole clusters, since two sides of a person are no two subjects: bias-corrected and
/// accelerated for the values over the grid, percentile at single points. Points at which some subject has no two values
/// use those that have.</para>
/// <para><b>Sources.</b> Shrout PE, Fleiss JL, Psychol Bull 1979;86:420-428; Shou H et al., Cogn Affect Behav Neurosci
/// 2013;13:714-724 (sums of components over a grid); Efron B, J Am Stat Assoc 1987;82:171-185. <b>Checked against</b>
/// <see cref="UnbalancedIntraclassCorrelation"/> at one point, coverage by simulation.</para>
/// </remarks>
public static class CurveReliability
{
    /// <summary>Estimates from repeated curves.</summary>
    /// <param name="curves">One row per curve; clusters are persons.</param>
    /// <param name="subjects">The subject (side of a person) of each row.</param>
    /// <param name="options">Replicates, seed, stream.</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="TooFewDataError">Fewer than three subjects with two curves, or fewer than three clusters.</exception>
    /// <exception cref="NotConvergedError">Too many resamples had too little in them.</exception>
    public static CurveReliabilityResult Estimate(CurveSet curves, IReadOnlyList<int> subjects, BootstrapOptions options, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.SameLength(subjects.Count, curves.Rows, "subjects");
        int[] kept = Repeated(subjects);
        CurveSet repeated = curves.SelectRows(kept);
        int[] subject = [.. kept.Select(r => subjects[r])];
        int count = subject.Distinct().Count();
        if (count < 3)
            throw new TooFewDataError($"{count} subjects have two curves", "Record two trials of three subjects at the very least.");
        SubjectSums[] sums = SubjectSums.Of(repeated, subject);
        int[] clusterOf = [.. sums.Select(s => s.Cluster)];
        Clusters clusters = Clusters.From(clusterOf);
        string[] names = [.. repeated.Grid.Select(g => g.ToString(CultureInfo.InvariantCulture)), "overall", "error"];
        IReadOnlyList<double> Statistic(Resample resample) => Components(sums, resample.Rows, repeated.Points);
        BootstrapResult bootstrap = PersonBootstrap.Run(names, clusters, Statistic, options);
        JackknifeResult jackknife = PersonBootstrap.Jackknife(names, clusters, Statistic, options.Threads);
        int m = repeated.Points;
        return new CurveReliabilityResult(
            [.. repeated.Grid],
            [.. Enumerable.Range(0, m).Select(j => Varies(sums, j) ? bootstrap.Original(j) : (double?)null)],
            [.. Enumerable.Range(0, m).Select(j => bootstrap.Percentile(j, level))],
            bootstrap.Original(m), Interval(bootstrap, jackknife, m, level),
            bootstrap.Original(m + 1), Interval(bootstrap, jackknife, m + 1, level),
            count, kept.Length, clusters.Count);
    }

    /// <summary>Where all resamples lie on one side the bias cannot be corrected; the percentiles are then what is left.</summary>
    private static ConfidenceInterval Interval(BootstrapResult bootstrap, JackknifeResult jackknife, int component, double level)
    {
        try
        {
            return bootstrap.Bca(component, jackknife, level);
        }
        catch (TooFewDataError)
        {
            return bootstrap.Percentile(component, level);
        }
    }

    private static int[] Repeated(IReadOnlyList<int> subjects)
    {
        Dictionary<int, int> times = [];
        foreach (int s in subjects)
            times[s] = times.GetValueOrDefault(s) + 1;
        return [.. Enumerable.Range(0, subjects.Count).Where(r => times[subjects[r]] > 1)];
    }

    private static bool Varies(SubjectSums[] sums, int point)
    {
        double[] means = [.. sums.Where(s => s.Count[point] > 0).Select(s => s.Mean[point])];
        return sums.Any(s => s.Within[point] > 0) || means.Distinct().Count() > 1;
    }

    /// <summary>Correlation at each point, over the grid, and the error.</summary>
    private static double[] Components(SubjectSums[] sums, ReadOnlySpan<int> subjects, int points)
    {
        double[] found = new double[points + 2];
        double between = 0;
        double within = 0;
        for (int j = 0; j < points; j++)
        {
            (double b, double w) = AtPoint(sums, subjects, j);
            found[j] = b + w > 0 ? b / (b + w) : 0;
            between += b;
            within += w;
        }
        if (!(between + within > 0))
            throw new TooFewDataError("the curves do not vary", "Agreement needs subjects that differ.");
        found[points] = between / (between + within);
        found[points + 1] = Math.Sqrt(within / points);
        return found;
    }

    /// <summary>Variance components of one point by analysis of variance.</summary>
    private static (double Between, double Within) AtPoint(SubjectSums[] sums, ReadOnlySpan<int> subjects, int point)
    {
        double n = 0, total = 0, grand = 0, squares = 0, within = 0;
        foreach (int s in subjects)
        {
            int count = sums[s].Count[point];
            if (count == 0)
                continue;
            n++;
            total += count;
            grand += count * sums[s].Mean[point];
            squares += (double)count * count;
            within += sums[s].Within[point];
        }
        if (n < 2 || total == n)
            throw new TooFewDataError("no subject has two values at a point", "Leave the point out, or record more trials.");
        grand /= total;
        double between = 0;
        foreach (int s in subjects)
            between += sums[s].Count[point] * (sums[s].Mean[point] - grand) * (sums[s].Mean[point] - grand);
        double meanWithin = within / (total - n);
        double effective = (total - (squares / total)) / (n - 1);
        return (((between / (n - 1)) - meanWithin) / effective, meanWithin);
    }

    /// <summary>What a subject's curves add to the analysis of variance at each point.</summary>
    private sealed record SubjectSums(int Cluster, int[] Count, double[] Mean, double[] Within)
    {
        internal static SubjectSums[] Of(CurveSet curves, int[] subject)
            => [.. Enumerable.Range(0, curves.Rows).GroupBy(r => subject[r]).Select(rows => From(curves, [.. rows]))];

        private static SubjectSums From(CurveSet curves, int[] rows)
        {
            int m = curves.Points;
            SubjectSums sums = new(curves.Clusters.ClusterOfRow[rows[0]], new int[m], new double[m], new double[m]);
            for (int j = 0; j < m; j++)
            {
                double[] values = [.. rows.Select(r => curves.At(r, j)).Where(v => !double.IsNaN(v))];
                if (values.Length == 0)
                    continue;
                double mean = values.Average();
                sums.Count[j] = values.Length;
                sums.Mean[j] = mean;
                sums.Within[j] = values.Sum(v => (v - mean) * (v - mean));
            }
            return sums;
        }
    }
}
