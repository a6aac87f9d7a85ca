using System.Collections.Immutable;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Report;

/// <summary>An invented results value, large enough to look like a study: 300 participants, 600 knees, six questions and one without an answer.</summary>
/// <remarks>The numbers mean nothing; they come from a fixed recurrence, so every test sees the same value.</remarks>
internal static class SampleResults
{
    /// <summary>A text that a hostile export might hold: markup, quotes, a script, and a right-to-left override.</summary>
    internal const string Hostile = "<script>alert('x')</script> \"quoted\" & \u202Egnp.exe <img src=x onerror=alert(1)>";

    internal static StudyResults Study() => new(
        Facts(), Origin(), Accounts(), Quality(), Flow(), Questions(), Measures(), Figures());

    internal static StudyResults WithHostileText()
    {
        StudyResults clean = Study();
        return clean with
        {
            Study = clean.Study with { Title = Hostile, Cautions = clean.Study.Cautions.Add(Hostile) },
            DataQuality = clean.DataQuality with
            {
                HipFirst = [new HipFirstLine(Hostile, Hostile, Hostile, "L", Hostile)],
                Examples = [new FindingLine("range.possible", "set aside", Hostile, Hostile, Hostile)],
            },
            Flow = [clean.Flow[0] with { Label = Hostile }, .. clean.Flow.Skip(1)],
            Questions =
            [
                .. clean.Questions.Select(q => q with
                {
                    Title = Hostile,
                    Answer = Hostile,
                    Warnings = [Hostile],
                    Estimates = [.. q.Estimates.Select(e => e with { Label = Hostile })],
                    Curves = [.. q.Curves.Select(c => c with { Group = Hostile })],
                    Scatters = [.. q.Scatters.Select(s => s with { XLabel = Hostile })],
                }),
            ],
            Measures = [new MeasureFacts("m", Hostile, Hostile, Hostile, Hostile, 1, 2)],
            Figures = [.. clean.Figures.Select(f => f with { Title = Hostile })],
        };
    }

    private static StudyFacts Facts() => new(
        "sample-study", "Femoral and tibial torsion and patellar instability: an invented cohort",
        "Do femoral anteversion and tibial torsion raise the rate of patellar dislocation, given laxity and age?",
        "Prospective cohort, three sites", "Invented scenario; no real participants.",
        "participant", "participants", "knee", "knees",
        ["Aged 10 to 30 years at enrolment.", "No earlier operation on the knee."], ["Site A", "Site B", "Site C"],
        "2026-01-15", 5,
        [
            "Research use only; no number here is advice on one patient.",
            "A painful or restricted hip is examined and imaged by a clinician before a knee explanation is accepted.",
        ]);

    private static Provenance Origin() => new(
        "0.1.0", "1.0", new string('a', 64), new string('b', 64), 20260115,
        [new FileFacts("plan.yaml", new string('c', 64), 4312), new FileFacts("study.yaml", new string('d', 64), 2210)],
        [new FileFacts("events.csv", new string('e', 64), 18220), new FileFacts("participants.csv", new string('f', 64), 15870)]);

    private static ImmutableArray<AccountLine> Accounts() =>
    [
        new("participants.csv", "Participants", 304, 300, [new ReasonCount("key.duplicate", 3, 3), new ReasonCount("key.missing", 1, 0)]),
        new("knee_exams.csv", "Knee examinations", 4210, 4198, [new ReasonCount("side.unknown", 12, 9)]),
        new("events.csv", "Events", 231, 231, []),
    ];

    private static DataQuality Quality() => new(
        [
            new("range.possible", "value set aside", "A value outside what is possible.", 14),
            new("range.plausible", "site asked", "A value that is possible but rare.", 37),
            new("side.unknown", "row set aside", "A side that is neither left nor right.", 12),
        ],
        [
            new("A-017", "Site A", "Baseline", "Left", "hip painful"),
            new("C-061", "Site C", "Month 12", "Right", "hip not examined"),
        ],
        [
            new("range.possible", "value set aside", "knee_exams.csv, line 212, hip_internal_rotation_deg", "470", "A hip cannot turn 470 degrees; please look at the form."),
            new("side.unknown", "row set aside", "knee_exams.csv, line 88, side", "links", "Write L or R."),
        ]);

    private static ImmutableArray<FlowStep> Flow() =>
    [
        new("in the roster", 304, 608, [], null),
        new("enrolled", 300, 600, [new ReasonCount("identifier given twice", 6, 3), new ReasonCount("no identifier", 2, 1)], null),
        new("with a baseline examination", 291, 582, [new ReasonCount("no baseline visit", 14, 7), new ReasonCount("hip first: painful or restricted", 4, 2)], null),
        new("laxity and torsion", 247, 489, [new ReasonCount("no imaging by the reference method", 84, 41), new ReasonCount("laxity score incomplete", 9, 5)], "Q2"),
        new("ever dislocating", 251, 500, [new ReasonCount("no imaging by the reference method", 82, 40)], "Q4"),
        new("time to first dislocation", 251, 498, [new ReasonCount("no imaging by the reference method", 82, 40), new ReasonCount("no follow-up", 2, 1)], "Q6"),
    ];

    private static ImmutableArray<QuestionResult> Questions() =>
    [
        SampleQuestions.Baseline(), SampleQuestions.Laxity(), SampleQuestions.Function(), SampleQuestions.EverDislocated(),
        SampleQuestions.Rate(), SampleQuestions.TimeToFirst(), SampleQuestions.Unanswered(),
    ];

    private static ImmutableArray<MeasureFacts> Measures() =>
    [
        new("anteversion", "Femoral anteversion", "°", "First image, method transverse neck; other methods are left out.", "Invented source, 2001", 512, 88),
        new("laxity_nine", "Laxity score, nine components", null, "Nine yes/no components; a score is given when all are known.", null, 286, 14),
    ];

    private static ImmutableArray<FigureRequest> Figures() =>
    [
        new("flow", "participant_flow", "Participant flow", [], null),
        new("laxity-scatter", "fit_scatter", "Laxity score by femoral anteversion", ["Q2"], "anteversion"),
        new("dislocation-free", "event_free_curves", "Knees without a first dislocation", ["Q6"], null),
        new("forest", "estimate_forest", "Anteversion and torsion by question", ["Q2", "Q3", "Q4", "Q5", "Q6", "Q7"], null),
    ];
}
