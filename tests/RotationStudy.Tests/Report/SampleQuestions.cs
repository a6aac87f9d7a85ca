using System.Collections.Immutable;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Report;

/// <summary>The invented answers of <see cref="SampleResults"/>.</summary>
internal static class SampleQuestions
{
    private static readonly AnalysisCounts Counts = new(251, 498, 498, 87, 1432.6, "years");

    internal static QuestionResult Baseline() => Question("Q1", "Characteristics at baseline", "baseline", []) with
    {
        Answer = "Knees that dislocated had 3.1° more femoral anteversion than the others (standardized difference 0.38).",
        Model = "",
        Tables =
        [
            new ResultTable("baseline", "Characteristics at baseline by whether the knee ever dislocated",
                ["Characteristic", "Never (n = 411)", "Ever (n = 87)", "Standardized difference"],
                [
                    Row(0, "Age, years: mean (SD)", "16.8 (3.9)", "15.2 (3.1)", "−0.45"),
                    Row(0, "Sex: n (%)", "", "", "0.12"),
                    Row(1, "Female", "248 (60.3)", "57 (65.5)", ""),
                    Row(1, "Male", "163 (39.7)", "30 (34.5)", ""),
                    Row(0, "Femoral anteversion, °: mean (SD)", "17.2 (8.1)", "20.3 (8.4)", "0.38"),
                ],
                ["SD: standard deviation."]),
        ],
    };

    internal static QuestionResult Laxity() => Question("Q2", "Laxity and torsion", "mean",
        [Difference("anteversion", "Femoral anteversion, per 10°", 0.31, 0.08, 0.54, 0.008, "points"), Difference("tibial_torsion", "Tibial torsion, per 10°", -0.05, -0.29, 0.19, 0.68, "points")]) with
    { Scatters = [Scatter(500)] };

    internal static QuestionResult Function() => Question("Q3", "Function at month 12", "mean",
        [Difference("anteversion", "Femoral anteversion, per 10°", -2.4, -4.6, -0.2, 0.033, "points"), Difference("tibial_torsion", "Tibial torsion, per 10°", -0.8, -2.7, 1.1, 0.41, "points")]);

    internal static QuestionResult EverDislocated() => Question("Q4", "Ever dislocating", "odds",
        [Ratio("anteversion", "Femoral anteversion, per 10°", "odds ratio", 1.62, 1.18, 2.23, 0.003), Ratio("prior", "Earlier instability: yes", "odds ratio", 14.2, 3.9, double.PositiveInfinity, 0.00002)]);

    internal static QuestionResult Rate() => Question("Q5", "Rate of dislocation", "rate",
        [Ratio("anteversion", "Femoral anteversion, per 10°", "rate ratio", 1.48, 1.12, 1.96, 0.006)]) with
    { Beside = [Ratio("anteversion", "Femoral anteversion, per 10°", "rate ratio", 1.51, 1.10, 2.07, 0.011)] };

    internal static QuestionResult TimeToFirst() => Question("Q6", "Time to first dislocation", "time_to_first",
        [Ratio("anteversion", "Femoral anteversion, per 10°", "hazard ratio", 1.44, 1.11, 1.87, 0.006)]) with
    { Curves = [Curve("under 15°", 0.02, 201), Curve("15 to 25°", 0.045, 198), Curve("over 25°", 0.09, 99)] };

    internal static QuestionResult Unanswered() => Question("Q7", "Derotation operations", "odds", []) with
    {
        Answered = false,
        Answer = "No estimate: none of 498 knees had a derotation operation. Wait for longer follow-up.",
        Counts = Counts with { Events = 0 },
    };

    internal static FitScatter Scatter(int n)
    {
        double[] x = new double[n], y = new double[n];
        uint state = 12345;
        double Next() => (state = state * 1664525 + 1013904223) / 4294967296.0;
        for (int i = 0; i < n; i++)
        {
            x[i] = 18 + 9 * (Next() + Next() + Next() - 1.5) * 2;
            y[i] = Math.Clamp(Math.Round(3 + 0.05 * (x[i] - 18) + 3 * (Next() + Next() - 1)), 0, 9);
        }
        double[] line = [.. Enumerable.Range(0, 41).Select(i => -6 + 1.2 * i)];
        return new FitScatter("anteversion", "Femoral anteversion (°)", "Laxity score, nine components (points)",
            [.. x], [.. y], [.. Enumerable.Range(0, n).Select(i => i % 2)],
            [.. line], [.. line.Select(v => 3 + 0.031 * (v - 18))],
            [.. line.Select(v => 3 + 0.031 * (v - 18) - 0.15 - 0.012 * Math.Abs(v - 18))],
            [.. line.Select(v => 3 + 0.031 * (v - 18) + 0.15 + 0.012 * Math.Abs(v - 18))]);
    }

    internal static EventFreeCurve Curve(string group, double hazard, int n)
    {
        double[] times = [0, .. Enumerable.Range(1, 28).Select(i => 0.17 * i + 0.003 * (i % 5))];
        double[] share = [.. times.Select(t => Math.Exp(-hazard * t))];
        int AtRisk(double t) => (int)Math.Round(n * Math.Exp(-hazard * t) * (1 - t / 5.4));
        double Half(double t) => t == 0 ? 0 : 1.96 * Math.Sqrt(Math.Exp(-hazard * t) * (1 - Math.Exp(-hazard * t)) / Math.Max(4, AtRisk(t)));
        double[] ticks = [0, 1, 2, 3, 4, 5];
        return new EventFreeCurve(group, "Years since enrolment", [.. times], [.. share],
            [.. times.Select((t, i) => Math.Max(0, share[i] - Half(t)))], [.. times.Select((t, i) => Math.Min(1, share[i] + 0.8 * Half(t)))],
            [.. Enumerable.Range(1, 24).Select(i => 1.9 + 0.125 * i)], [.. ticks], [.. ticks.Select(AtRisk)],
            [.. ticks.Select(t => (int)(n * (1 - Math.Exp(-hazard * t))))], "log-log, clusters by participant");
    }

    internal static EstimateRow Ratio(string term, string label, string scale, double value, double lower, double upper, double p) => new(
        term, label, "exposure", scale, null, value, lower, upper, p, Math.Log(value), 0.13, null, "cluster-robust variance", 1);

    private static EstimateRow Difference(string term, string label, double value, double lower, double upper, double p, string unit) => new(
        term, label, "exposure", "difference", unit, value, lower, upper, p, value, (upper - lower) / 3.92, 61.4, "CR2 with Satterthwaite degrees of freedom", 0);

    private static QuestionResult Question(string id, string title, string kind, ImmutableArray<EstimateRow> estimates) => new(
        id, title, $"The question {id} as a sentence?", kind, true, $"The answer to {id} in a sentence.",
        "Linear model with terms for anteversion, torsion, age and sex; participants are clusters.",
        ["Bell and McCaffrey (2002), Survey Methodology 28"], Counts,
        [new ReasonCount("no imaging by the reference method", 82, 40), new ReasonCount("no follow-up", 2, 1)],
        estimates, [],
        [new DiagnosticRow("Residual spread", true, "Spread is even across fitted values."), new DiagnosticRow("Influence", null, "The most influential participant moves the estimate by 0.02.")],
        [], [], [], []);

    private static TableRow Row(int indent, params string[] cells) => new([.. cells.Select(c => new TableCell(c, null))], indent);
}
