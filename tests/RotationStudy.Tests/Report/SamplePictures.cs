using System.Collections.Immutable;
using RotationStudy.Report.Figures;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Report;

/// <summary>Invented results for every kind of figure, with labels and sizes as asked for. The numbers mean nothing.</summary>
internal static class SamplePictures
{
    private const double Third = 1.0 / 3;

    /// <summary>Results whose figures hold each kind once.</summary>
    /// <param name="label">Turns a label of ordinary length into the one wanted.</param>
    /// <param name="n">Rows of everything that has rows.</param>
    internal static StudyResults Every(Func<string, string> label, int n = 120)
    {
        StudyResults sample = SampleResults.Study();
        return sample with
        {
            Figures = Requests(label),
            Flow = [.. sample.Flow.Select(s => s with { Label = label(s.Label) })],
            Questions = [.. sample.Questions.Select(q => Fill(q, label, n)), Growth(label, n), Agreement(label, n)],
            Gardens = [Garden(label)],
            Missing = new MissingFacts([.. Enumerable.Range(1, 9).Select(i => label($"Site {i}"))], [.. Enumerable.Range(0, 12).Select(i => Line(label($"Measure {i}"), i))], []),
            Values = Values(label, n),
            Risks = [Risk(label("developed model"), label("all sites"), n), Risk(label("published score"), label("Site C"), n)],
            Tracking = [Tracking(label, n)],
        };
    }

    private static double Wave(int i, int salt) => Math.Sin((i * 12.9898) + (salt * 78.233)) * 0.5 + 0.5;

    private static ImmutableArray<double> Waves(int n, int salt, double low, double high, int decimals = 0)
        => [.. Enumerable.Range(0, n).Select(i => Math.Round(low + ((high - low) * Wave(i, salt)), decimals))];

    private static ImmutableArray<FigureRequest> Requests(Func<string, string> label) =>
    [
        .. FigureCatalog.Names.Select(kind => new FigureRequest($"all-{kind.Replace('_', '-')}", kind, label($"A figure of the kind {kind}"), QuestionsOf(kind), kind == "fit_scatter" ? "anteversion" : null)),
    ];

    private static ImmutableArray<string> QuestionsOf(string kind) => kind switch
    {
        "fit_scatter" => ["Q2"],
        "event_free_curves" or "incidence_curves" => ["Q6"],
        "estimate_forest" => ["Q2", "Q4", "Q5", "Q6", "Q7"],
        "choice_chart" or "mean_events" or "exposure_curve" or "subgroup_forest" => ["Q5"],
        "growth_lines" => ["G1"],
        "agreement_limits" or "reliability_forest" => ["A1"],
        "risk_calibration" or "risk_discrimination" or "risk_decision" => ["P1"],
        "tracking_curves" => ["T1"],
        _ => [],
    };

    private static QuestionResult Fill(QuestionResult q, Func<string, string> label, int n) => q with
    {
        Title = label(q.Title),
        Estimates = [.. q.Estimates.Select(e => e with { Label = label(e.Label) })],
        Curves = [.. q.Curves.Select(c => c with { Group = label(c.Group), TimeLabel = label(c.TimeLabel) })],
        Scatters = [.. q.Scatters.Select(_ => SampleQuestions.Scatter(Math.Max(2, n)) with { XLabel = label("Femoral anteversion (°)"), YLabel = label("Laxity score (points)") })],
        Rising = q.Id is "Q5" or "Q6" ? [Rising(label, q.Id == "Q6", n)] : [],
        Subgroups = q.Id == "Q5" ? [Subgroup(label, "Sex", 0.23), Subgroup(label, "Skeletal maturity", null)] : [],
        Supplement = q.Supplement with { Shapes = q.Id == "Q5" ? [Shape(label, n)] : [] },
    };

    private static RisingCurves Rising(Func<string, string> label, bool share, int n) => new(
        label("dislocation"), label("Knees with a dislocation"), share, label("Time since enrolment (years)"), n, 2 * n, "jackknife by cluster",
        [.. new[] { "under 15°", "15 to 25°", "over 25°" }.Select((g, k) => Curve(label(g), share ? 0.05 + (0.08 * k) : 0.2 + (0.3 * k), n))]);

    private static RisingCurve Curve(string group, double height, int n)
    {
        double[] times = [.. Enumerable.Range(1, Math.Min(n, 30)).Select(i => 0.15 * i)];
        double[] value = [.. times.Select(t => height * t / 5)];
        double[] ticks = [0, 1, 2, 3, 4];
        return new RisingCurve(
            group, 4.9, [.. times], [.. value], [.. value.Select(v => v * 0.6)], [.. value.Select(v => v * 1.5)],
            [.. ticks], [.. ticks.Select(t => (int)(n * (1 - (t / 6))))], [.. ticks.Select(t => (int)(n * height * t / 5))])
        {
            Events = (int)(n * height),
        };
    }

    private static SubgroupEstimates Subgroup(Func<string, string> label, string name, double? p) => new(
        name, label(name),
        [
            new SubgroupEstimate(label("girls and women"), new AnalysisCounts(140, 270, 270, 51, 0, null), [SampleQuestions.Ratio("anteversion", "x", "rate ratio", 1.6, 1.1, 2.4, 0.01)], null),
            new SubgroupEstimate(label("boys and men"), new AnalysisCounts(110, 220, 220, 36, 0, null), [SampleQuestions.Ratio("anteversion", "x", "rate ratio", 1.2, 0.3, double.PositiveInfinity, 0.4)], null),
            new SubgroupEstimate(label("not known"), new AnalysisCounts(3, 6, 6, 0, 0, null), [], "fewer than 5 participants"),
        ],
        [p], "The planned model with products.");

    private static ShapeCurve Shape(Func<string, string> label, int n)
    {
        double[] x = [.. Enumerable.Range(0, 61).Select(i => -5 + i)];
        return new ShapeCurve(
            "anteversion", label("Femoral anteversion (°)"), "rate ratio", null, 1, 20, [0, 15, 25, 45], [.. x],
            [.. x.Select(v => Math.Exp(0.02 * (v - 20)))], [.. x.Select(v => Math.Exp((0.02 * (v - 20)) - (0.02 * Math.Abs(v - 20))))],
            [.. x.Select(v => v > 54 ? double.PositiveInfinity : Math.Exp((0.02 * (v - 20)) + (0.02 * Math.Abs(v - 20))))], 0.34, "No sign of a bend (p = 0.340).")
        {
            Values = Waves(n, 3, -10, 60),
        };
    }

    private static QuestionResult Growth(Func<string, string> label, int n)
    {
        double[] grid = [.. Enumerable.Range(0, 21).Select(i => 10 + (0.4 * i))];
        MeanLine Mean(string group, double level) => new(label(group), [.. grid], [.. grid.Select(v => level - v)], [.. grid.Select(v => level - v - 2)], [.. grid.Select(v => level - v + 2)]);
        return SampleQuestions.Laxity() with
        {
            Id = "G1", Title = label("Anteversion by age"), Scatters = [], Estimates = [],
            Growth = new GrowthLines(
                label("Age (years)"), label("Femoral anteversion (°)"),
                [.. Enumerable.Range(0, n).Select(i => new SingleLine(i % 2, [10 + (i % 5), 12 + (i % 5), 13.5 + (i % 5)], [.. Waves(3, i, 5, 40)]))],
                [Mean("girls", 38), Mean("boys", 34)],
                new NormBand(label("Norm of a population"), "Invented source, 2001", [new NormStep(8, 12, 24, 10, 38), new NormStep(12, 19, 20, 6, 34)]),
                "Mixed model."),
        };
    }

    private static QuestionResult Agreement(Func<string, string> label, int n)
    {
        LimitsLine Limits(string a, string b, int salt)
        {
            ImmutableArray<double> means = Waves(n, salt, -5, 45), differences = Waves(n, salt + 7, -12, 12);
            return new LimitsLine(label(a), label(b), n, n, 0.4, -0.8, 1.6, -10, -12, -8, 11, 9, 13, null, null, null) { Means = means, Differences = differences };
        }
        ReliabilityLine Line(string scope, string group) => new(scope, label(group), "left", n, 2, 3, 0.82, 0.31, 0.91, 0.85, 0.7, 0.93, 3.1, 2.2, 4.4, 8.6);
        return SampleQuestions.Laxity() with
        {
            Id = "A1", Title = label("Hip internal rotation"), Scatters = [], Estimates = [],
            Agreement = new AgreementResult(
                "degrees", [Line("between raters", "all"), Line("between raters", "Site B"), Line("within rater", "rater 1")],
                [Limits("rater 1", "rater 2", 1), Limits("rater 1", "rater 3", 2), Limits("rater 2", "rater 3", 3), Limits("rater 1, first session", "rater 1, second session", 4), Limits("rater 2", "imaging", 5)]),
        };
    }

    private static MissingLine Line(string label, int i) => new(
        $"m{i}", label, 600, 7 * i, [.. Enumerable.Range(0, 9).Select(s => s == 8 ? null : (double?)Math.Min(1, i * s / 60.0))], []);

    private static FigureValues Values(Func<string, string> label, int n) => new(
        [Pair("all-paired-points", label, n, [""]), Pair("all-scatter-panels", label, n, [.. Enumerable.Range(1, 5).Select(i => label($"Site {i}"))])],
        [new SidePairs("all-side-slopes", label("Femoral anteversion (°)"), "°", label("other knee"), label("knee: dislocated during follow-up"), Waves(n, 1, 0, 40), Waves(n, 2, 0, 40), new NumberWithInterval(2.1, -0.3, 4.5), 12, 3)],
        [new DigitCounts("all-digit-heaping", label("Hip internal rotation (°)"), [.. Enumerable.Range(1, 6).Select(r => new RaterDigits(label($"rater {r}"), [.. Enumerable.Range(0, 10).Select(d => d % 5 == 0 ? n : n / 8)]))])],
        [new ScoreCounts("all-score-distributions", [.. new[] { "nine components", "seven components" }.Select((s, k) => new ScoreDistribution(label(s), [0, 1, 2, 3, 4, 5, 6, 7], [n, n / 2, n, n / 3, 3, n / 4, 2, 1], k, 2.3))])],
        [new DiaryWeeksDrawn("all-diary-strips", [.. new[] { "Pain (points)", "Training load (points)" }.Select((m, k) => new DiaryStrips(label(m), [.. Enumerable.Range(0, Math.Min(n, 60)).Select(p => new DiaryStrip(1, [.. Enumerable.Range(0, 20 - (p % 7)).Select(w => (w + p) % 9 == 0 ? null : (double?)Wave(w + p, k) * 9)]))]))])],
        [new MilestoneCurves("all-milestone-curves", Rising(label, true, n))]);

    private static MeasurePair Pair(string figure, Func<string, string> label, int n, ImmutableArray<string> groups)
    {
        ImmutableArray<double> x = Waves(n, 1, -8, 45), y = Waves(n, 2, 10, 60);
        PairLine line = new([0, 20, 40], [30, 34, 38], [28, 33, 35], [32, 35, 41], new NumberWithInterval(0.2, 0.1, 0.3));
        return new MeasurePair(
            figure, label("Femoral anteversion (°)"), label("Tibial torsion (°)"), label("Dislocated during follow-up"), groups.Length > 1 ? label("Site") : null, groups,
            [.. Enumerable.Range(0, n).Select(i => new PairPoint(i / 2, i % 2, i % groups.Length, x[i], y[i], i % 6 == 0))],
            groups.Length > 1 ? [.. groups.Select(_ => line)] : [], 4, "Least squares");
    }

    private static RiskPerformance Risk(string model, string sample, int n)
    {
        double[] grid = [.. Enumerable.Range(0, 21).Select(i => 0.02 * i)];
        double[] curve = [0, .. grid.Select(v => Math.Sqrt(v / 0.4))], thresholds = [.. Enumerable.Range(1, 30).Select(i => i / 60.0)];
        return new RiskPerformance(
            "P1", model, "a dislocation within 24 months", sample, new AnalysisCounts(n, 2 * n, 2 * n, n / 5, 0, null),
            new RiskCalibration(
                [.. Enumerable.Range(0, 8).Select(i => new RiskGroup(n / 4, n / 40, 0.03 + (0.045 * i), 0.05 + (0.04 * i), 0.01 + (0.03 * i), 0.12 + (0.06 * i)))],
                [.. grid], [.. grid.Select(v => 0.02 + (v * 0.9))], [.. grid.Select(v => Math.Max(0, (v * 0.9) - 0.04))], [.. grid.Select(v => 0.08 + (v * 0.95))],
                [.. Enumerable.Range(0, 21).Select(i => i / 20.0)], [.. Enumerable.Range(0, 20).Select(i => Math.Max(0, 12 - i))], [.. Enumerable.Range(0, 20).Select(i => Math.Max(0, 60 - (6 * i)))],
                new NumberWithInterval(1.04, 0.81, 1.33), new NumberWithInterval(0.05, -0.2, 0.3), new NumberWithInterval(0.88, 0.6, 1.16)),
            new RiskDiscrimination([.. Enumerable.Range(0, 22).Select(i => 1 - (i / 21.0))], [0, .. grid.Select(v => v / 0.4)], [.. curve], new NumberWithInterval(0.71, 0.64, 0.78), 0.68),
            new RiskDecision([.. thresholds], [.. thresholds.Select(t => 0.1 - (0.2 * t))], [.. thresholds.Select(t => 0.06 - (0.2 * t))], [.. thresholds.Select(t => 0.14 - (0.2 * t))], [.. thresholds.Select(t => (0.12 - t) / (1 - t))]),
            "Bootstrap of 500 samples of persons.");
    }

    private static TrackingResult Tracking(Func<string, string> label, int n)
    {
        double[] arc = [.. Enumerable.Range(0, 31).Select(i => 3.0 * i)];
        TrackingGroup Group(string name, double lift) => new(
            label(name), n, n, [.. arc.Select(a => 6 + lift - (a * Third * 0.2))], [.. arc.Select(a => 5 + lift - (a * Third * 0.2))], [.. arc.Select(a => 7 + lift - (a * Third * 0.2))],
            [.. Enumerable.Range(0, Math.Min(n, 40)).Select(i => (ImmutableArray<double>)[.. arc.Select(a => 6 + lift + (4 * (Wave(i, 3) - 0.5)) - (a * 0.06))])]);
        return new TrackingResult(
            "T1", label("Knee flexion (°)"), label("Lateral shift of the patella (mm)"), new AnalysisCounts(2 * n, 2 * n, 2 * n, 0, 0, null), [.. arc],
            [Group("dislocating knees", 5), Group("normal knees", 0)],
            new TrackingDifference(label("dislocating minus normal"), [.. arc.Select(a => 5 - (a * 0.05))], [.. arc.Select(a => 3 - (a * 0.05))], [.. arc.Select(a => 7 - (a * 0.05))], 0.002, [new ArcStretch(0, 45)]),
            "Mean curves with simultaneous bands.");
    }

    private static ChoiceGarden Garden(Func<string, string> label) => new(
        "Q5", label("Femoral anteversion, per 10°"), "rate ratio", null, 1,
        [new ChoiceDecision(label("Laxity score"), [new(label("nine"), "r"), new(label("seven"), "r")]), new ChoiceDecision(label("Hip gate"), [new(label("visit closed"), "r"), new(label("side closed"), "r"), new(label("off"), "r")])],
        [.. Enumerable.Range(0, 6).Select(i => new ChoiceFit([i / 3, i % 3], new ChoiceEstimate("rate ratio", 1.2 + (0.05 * i), 0.9 + (0.05 * i), 1.6 + (0.05 * i), 0.04), 250, 498, 87, null))],
        6, 4, "It holds in 4 of 6.", ["Hip gate: little."]);
}
