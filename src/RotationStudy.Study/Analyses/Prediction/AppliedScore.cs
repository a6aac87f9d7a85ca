using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Descriptive;
using RotationStudy.Statistics.Prediction;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses.Prediction;

/// <summary>A published score applied to the cohort: points, published against observed risk, discrimination, calibration and net benefit.</summary>
internal static class AppliedScore
{
    internal static (PredictionResult Result, ImmutableArray<RiskPerformance> Risks) Build(DerivedMeasures measures, RiskScore score)
    {
        string[] needed = [score.Outcome, .. score.Factors.Select(f => f.Measure)];
        AnalysisTable table = TableBuilder.Build(measures, score.Rows, needed, score.Keep);
        PredictionResult result = Empty(measures, score, table);
        if (table.Rows == 0)
            return (result with { Answer = "The score cannot be judged: no row has all the values that it needs." }, []);
        int?[] all = [.. Enumerable.Range(0, table.Rows).Select(r => Points(score, measures, table.Keys[r]))];
        int[] whole = [.. Enumerable.Range(0, all.Length).Where(r => all[r] is not null)];
        if (whole.Length < all.Length)
        {
            table = PlannedModel.TableOf(table, whole);
            result = result with
            {
                Counts = Counts(table, [.. table[score.Outcome].Values.Select(v => v > 0)]),
                LeftOut = result.LeftOut.Add(new ReasonCount("A factor is not known of the other side", all.Length - whole.Length, 0)),
            };
        }
        int[] points = [.. whole.Select(r => all[r]!.Value)];
        bool[] happened = [.. table[score.Outcome].Values.Select(v => v > 0)];
        result = result with { Points = PointsRows(score, points, happened) };
        try
        {
            return Judge(score, table, points, happened, result);
        }
        catch (StatisticsError error)
        {
            return (result with { Answer = $"The score cannot be judged: {error.What}. {error.Hint}" }, []);
        }
    }

    /// <summary>Points of a row; null where a factor is not known.</summary>
    internal static int? Points(RiskScore score, DerivedMeasures measures, RowKey key)
    {
        int points = 0;
        foreach (ScoreFactor factor in score.Factors)
        {
            MeasureColumn column = measures[factor.Measure];
            int row = column.Index.Find(factor.OtherSide ? key with { Side = 1 - key.Side } : key);
            if (row < 0 || !column.HasValue(row))
                return null;
            double value = column.Values[row];
            bool there = factor.Codes.IsEmpty
                ? (factor.AtLeast is { } from && value >= from) || (factor.MoreThan is { } above && value > above) || (factor.Below is { } under && value < under)
                : factor.Codes.Contains(column.Codes[(int)value].Code);
            points += there ? factor.Points : 0;
        }
        return points;
    }

    private static (PredictionResult Result, ImmutableArray<RiskPerformance> Risks) Judge(
        RiskScore score, AnalysisTable table, int[] points, bool[] happened, PredictionResult result)
    {
        Clusters persons = Clusters.From(table.Participants);
        AreaEstimate byPoints = AreaUnderCurve.Estimate(happened, [.. points.Select(p => (double)p)], persons);
        PerformanceRow area = new("all rows", "Area under the curve, by points", byPoints.Value, byPoints.Interval.Lower, byPoints.Interval.Upper, null, null);
        Dictionary<int, double> published = score.Risks.ToDictionary(r => r.Points, r => r.Risk);
        int[] known = [.. Enumerable.Range(0, points.Length).Where(i => published.ContainsKey(points[i]))];
        string inWords = $"Area under the curve by points {Sentences.Number(byPoints.Value)} (95% CI {Sentences.Number(byPoints.Interval.Lower)} to {Sentences.Number(byPoints.Interval.Upper)}).";
        result = result with { Answered = true, Answer = inWords, Performance = [area] };
        try
        {
            AnalysisTable few = PlannedModel.TableOf(table, known);
            PredictedRisks risks = PredictedRisks.From([.. known.Select(i => happened[i])], [.. known.Select(i => published[points[i]])], persons.SelectRows(known));
            string sample = known.Length == points.Length ? "all rows" : "rows whose points have a published risk that was confirmed";
            Judgement judged = JudgedRisks.Of(
                new JudgedSample(score.Id, score.Title, result.Outcome, sample, Counts(few, [.. known.Select(i => happened[i])]), risks, score.Thresholds), null);
            RiskCalibration c = judged.Risk.Calibration;
            return (result with
            {
                Answer = $"{inWords} Observed over expected {Words(c.ObservedOverExpected)}, calibration in the large {Words(c.Intercept)}, slope {Words(c.Slope)}.",
                Performance = [area, .. judged.Performance],
                Decision = judged.Decision,
                Warnings = [.. result.Warnings, .. Missing(points.Length - known.Length)],
            }, [judged.Risk]);
        }
        catch (StatisticsError error)
        {
            return (result with { Warnings = [.. result.Warnings, .. Missing(points.Length - known.Length), $"Calibration cannot be judged: {error.What}."] }, []);
        }
    }

    private static ImmutableArray<PointsRow> PointsRows(RiskScore score, int[] points, bool[] happened)
        => [.. Enumerable.Range(0, score.Factors.Sum(f => f.Points) + 1).Select(p =>
        {
            int rows = points.Count(v => v == p);
            int events = points.Where((v, i) => v == p && happened[i]).Count();
            ConfidenceInterval interval = rows == 0 ? new ConfidenceInterval(0, 1, ConfidenceInterval.DefaultLevel) : Proportion.Wilson(events, rows).Interval;
            return new PointsRow(p, rows, events, interval.Lower, interval.Upper, score.Risks.FirstOrDefault(r => r.Points == p)?.Risk);
        }).Where(r => r.Rows > 0 || r.Published is not null)];

    private static PredictionResult Empty(DerivedMeasures measures, RiskScore score, AnalysisTable table) => new(
        score.Id, "score", score.Title, score.Source, $"{Sentences.LowerFirst(measures[score.Outcome].Definition.Label)}, {score.Horizon}", false, string.Empty,
        $"Points: {string.Join("; ", score.Factors.Select(f => string.Create(CultureInfo.InvariantCulture, $"{f.Label} ({f.Points})")))}. Nothing was fitted to these data: the published risks are taken as they are printed.",
        Counts(table, [.. table[score.Outcome].Values.Select(v => v > 0)]), table.LeftOut, [], [], [], [], [], [],
        score.Mapping, score.Unconfirmed, PredictionAnalysis.Citations, PredictionAnalysis.Cautions);

    private static AnalysisCounts Counts(AnalysisTable table, bool[] happened)
        => new(table.ParticipantCount, table.UnitCount, table.Rows, happened.Count(h => h), 0, null);

    private static string Words(NumberWithInterval n) => $"{Sentences.Number(n.Value)} ({Sentences.Number(n.Lower)} to {Sentences.Number(n.Upper)})";

    private static IEnumerable<string> Missing(int rows)
    {
        if (rows > 0)
            yield return string.Create(CultureInfo.InvariantCulture, $"{rows} rows have points whose published risk could not be confirmed; they count for discrimination by points only.");
    }
}
