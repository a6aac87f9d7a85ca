using RotationStudy.Statistics;
using RotationStudy.Statistics.Agreement;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Analyses;

/// <summary>The error variance of a measure's value, from the readings of a question of agreement or from the plan.</summary>
/// <param name="Variance">Error variance of one value, squared unit of the measure.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of it.</param>
/// <param name="Words">Where it comes from.</param>
internal sealed record ReadingError(double Variance, double DegreesOfFreedom, string Words)
{
    /// <summary>The error as the plan declares it.</summary>
    /// <exception cref="StatisticsError">Nothing was read twice.</exception>
    internal static ReadingError Of(MeasurementErrorPlan plan, AnalysisInput input)
    {
        if (plan.ErrorSd is { } sd)
            return new ReadingError(sd * sd, plan.DegreesOfFreedom!.Value, $"as planned, from {plan.ErrorSource!.TrimEnd('.')}");
        ReadingSet readings = input.Measures.Readings[plan.From!];
        ReadingRow[] rows = plan.Scope == ErrorScope.BetweenRaters ? [.. readings.Rows.Where(r => r.Session == 0)] : [.. readings.Rows];
        object[] subjects = plan.Scope == ErrorScope.BetweenRaters
            ? [.. rows.Select(r => (object)(r.Participant, r.Side))]
            : [.. rows.Select(r => (object)(r.Participant, r.Side, r.Rater))];
        WithinSubjectEstimate within = WithinSubjectVariance.Estimate(
            [.. rows.Select(r => r.Value)], Clusters.From(subjects), Clusters.From(rows.Select(r => r.Participant).ToArray()));
        double averaged = ShareLeft((ValueMeasure)input.Measures[plan.Measure].Definition, readings, input);
        string scope = plan.Scope == ErrorScope.BetweenRaters ? "read by several raters" : "read by one rater at several sessions";
        string share = averaged == 1 ? string.Empty : FormattableString.Invariant($"; a value is the mean of {1 / averaged:0.##} readings (harmonic mean), which divides the variance");
        return new ReadingError(
            within.Variance * averaged, within.DegreesOfFreedom,
            $"{plan.From}: {within.Subjects} subjects {scope}, {input.Protocol.Study.ParticipantWords.Count(within.Clusters)}{share}");
    }

    /// <summary>The mean over the question's rows of one over the number of readings that a value is the mean of.</summary>
    private static double ShareLeft(ValueMeasure measure, ReadingSet readings, AnalysisInput input)
    {
        if (measure.Reduction != Reduction.Mean)
            return 1;
        string? session = measure.Visit is null ? null : input.Protocol.Study.Visits.FirstOrDefault(v => v.Id == measure.Visit)?.Label ?? measure.Visit;
        Dictionary<(int, int), int> count = readings.Rows
            .Where(r => session is null || readings.Sessions[r.Session] == session)
            .GroupBy(r => (r.Participant, r.Side))
            .ToDictionary(g => g.Key, g => g.Count());
        return input.Table.Keys.Average(k => 1.0 / Math.Max(1, count.GetValueOrDefault((k.Participant, k.Side), count.GetValueOrDefault((k.Participant, -1), 1))));
    }
}
