using RotationStudy.Statistics;
using RotationStudy.Statistics.Agreement;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Agreement;

/// <summary>One line of reliability from a complete table; null with a warning where it cannot be given.</summary>
/// <remarks>
/// Where raters took turns and no group of subjects was read by all, subjects read by any two stand in a one-way layout.
/// Raters are a sample whose systematic differences count: ICC(2,1). Sessions of one rater are repetitions without an order of
/// their own: ICC(1,1), in which a shift from session to session counts as error like any other.
/// </remarks>
internal static class Reliability
{
    internal static ReliabilityLine? BetweenRaters(string group, string side, CompleteTable table, int fewest, List<string> warnings)
        => Line("between raters", group, side, table, fewest, warnings, ratings =>
        {
            IntraclassEstimate agreement = IntraclassCorrelation.Estimate(ratings, IntraclassForm.AgreementSingle);
            return (agreement.Value, GeneralizedIntraclassInterval.Agreement(ratings), MeasurementError.Agreement(ratings));
        });

    internal static ReliabilityLine? WithinRater(string rater, string side, CompleteTable table, int fewest, List<string> warnings)
        => Line("within rater", rater, side, table, fewest, warnings, ratings =>
        {
            IntraclassEstimate agreement = IntraclassCorrelation.Estimate(ratings, IntraclassForm.OneWaySingle);
            return (agreement.Value, agreement.Interval, MeasurementError.FromVariance(ratings.WithinSubjects, ratings.Subjects * (ratings.Raters - 1.0)));
        });

    /// <summary>Subjects read by two raters or more at the first session, whoever read: the one-way layout with unequal numbers.</summary>
    internal static ReliabilityLine? BetweenAnyRaters(string group, string side, IReadOnlyList<ReadingRow> rows, int fewest, List<string> warnings)
    {
        ReadingRow[] repeated = [.. rows.GroupBy(r => (r.Participant, r.Side)).Where(g => g.Count() > 1).SelectMany(g => g)];
        double[] values = [.. repeated.Select(r => r.Value)];
        Clusters subjects = Clusters.From(repeated.Select(r => (r.Participant, r.Side)).ToArray());
        string what = string.Join(", ", new[] { "between any raters", group, side }.Where(w => w.Length > 0));
        if (subjects.Count < fewest)
        {
            warnings.Add(FormattableString.Invariant($"No correlation {what}: fewer than {fewest} people were read by two raters."));
            return null;
        }
        try
        {
            UnbalancedIntraclassEstimate agreement = UnbalancedIntraclassCorrelation.OneWay(values, subjects);
            WithinSubjectEstimate within = WithinSubjectVariance.Estimate(values, subjects, Clusters.From(repeated.Select(r => r.Participant).ToArray()));
            MeasurementErrorEstimate error = MeasurementError.FromVariance(within.Variance, Math.Min(within.DegreesOfFreedom, agreement.Test.DenominatorDegreesOfFreedom));
            return new ReliabilityLine(
                "between any raters", group, side, subjects.Count, rows.Select(r => (r.Participant, r.Side)).Distinct().Count() - subjects.Count, subjects.LargestSize,
                agreement.Value, agreement.Interval.Lower, agreement.Interval.Upper, null, null, null,
                error.StandardErrorOfMeasurement, error.StandardErrorInterval.Lower, error.StandardErrorInterval.Upper, error.SmallestDetectableChange);
        }
        catch (StatisticsError fault)
        {
            warnings.Add($"No correlation {what}: {fault.What}.");
            return null;
        }
    }

    private static ReliabilityLine? Line(
        string scope, string group, string side, CompleteTable table, int fewest, List<string> warnings,
        Func<RatingTable, (double Value, ConfidenceInterval Interval, MeasurementErrorEstimate Error)> estimate)
    {
        string what = string.Join(", ", new[] { scope, group, side }.Where(w => w.Length > 0));
        if (table.Subjects < fewest)
        {
            warnings.Add(FormattableString.Invariant($"No correlation {what}: fewer than {fewest} people have all ratings."));
            return null;
        }
        try
        {
            RatingTable ratings = RatingTable.From([.. table.Columns]);
            (double value, ConfidenceInterval interval, MeasurementErrorEstimate error) = estimate(ratings);
            IntraclassEstimate consistency = IntraclassCorrelation.Estimate(ratings, IntraclassForm.ConsistencySingle);
            return new ReliabilityLine(
                scope, group, side, table.Subjects, table.Incomplete, table.Columns.Length,
                value, interval.Lower, interval.Upper,
                consistency.Value, consistency.Interval.Lower, consistency.Interval.Upper,
                error.StandardErrorOfMeasurement, error.StandardErrorInterval.Lower, error.StandardErrorInterval.Upper, error.SmallestDetectableChange);
        }
        catch (StatisticsError fault)
        {
            warnings.Add($"No correlation {what}: {fault.What}.");
            return null;
        }
    }
}
