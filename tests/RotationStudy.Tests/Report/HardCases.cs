using System.Collections.Immutable;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Report;

/// <summary>Results that are hard to draw, by name.</summary>
internal static class HardCases
{
    private const string Long = "anteversion above the ninety-fifth percentile of the healthy side, measured by the reference method at a second reading";

    private const string Middling = "anteversion over 25 degrees";

    internal static ImmutableSortedDictionary<string, StudyResults> All { get; } = new Dictionary<string, StudyResults>
    {
        ["the sample"] = SampleResults.Study(),
        ["hostile text"] = SampleResults.WithHostileText(),
        ["long labels everywhere"] = Labelled(Long),
        ["middling labels everywhere"] = Labelled(Middling),
        ["no events, one group"] = NoEvents(),
        ["one row of everything"] = OneOfEach(),
        ["five thousand points, negative"] = ManyPoints(),
        ["estimates far apart"] = FarApart(),
        ["nothing answered"] = NothingAnswered(),
        ["every kind"] = SamplePictures.Every(l => l),
        ["every kind, middling labels"] = SamplePictures.Every(l => $"{l}, {Middling}"),
        ["every kind, long labels"] = SamplePictures.Every(l => $"{l}: {Long}"),
        ["every kind, one word that cannot be broken"] = SamplePictures.Every(l => l.Replace(' ', 'x') + new string('m', 90)),
        ["every kind, hostile text"] = SamplePictures.Every(l => l + SampleResults.Hostile),
        ["every kind, one of each"] = SamplePictures.Every(l => l, 1),
        ["every kind, five thousand"] = SamplePictures.Every(l => l, 5000),
        ["every kind, nothing to draw"] = SampleResults.Study() with { Figures = SamplePictures.Every(l => l).Figures, Questions = [], Flow = [] },
    }.ToImmutableSortedDictionary(StringComparer.Ordinal);

    internal static StudyResults With(StudyResults results, QuestionResult question)
        => results with { Questions = [.. results.Questions.Select(q => q.Id == question.Id ? question : q)] };

    private static QuestionResult Question(string id) => SampleResults.Study().Questions.Single(q => q.Id == id);

    private static StudyResults Labelled(string label)
    {
        StudyResults sample = SampleResults.Study();
        return sample with
        {
            Figures = [.. sample.Figures.Select(f => f with { Title = $"{label} {label}" })],
            Flow = [.. sample.Flow.Select(s => s with { Label = label, LeftOut = [.. s.LeftOut.Select(r => r with { Reason = label })] })],
            Questions =
            [
                .. sample.Questions.Select(q => q with
                {
                    Title = label,
                    Estimates = [.. q.Estimates.Select(e => e with { Label = label })],
                    Curves = [.. q.Curves.Concat(q.Curves).Take(5).Select((c, i) => c with { Group = $"{i} {label}", TimeLabel = label })],
                    Scatters = [.. q.Scatters.Select(s => s with { XLabel = label, YLabel = label })],
                }),
            ],
        };
    }

    private static StudyResults NoEvents() => With(SampleResults.Study(), Question("Q6") with
    {
        Curves = [new EventFreeCurve("", "Years since enrolment", [0], [1], [1], [1], [1.2, 2.4, 4.9], [0, 1, 2, 3, 4, 5], [40, 40, 38, 20, 9, 2], [0, 0, 0, 0, 0, 0], "log-log")],
    });

    private static StudyResults OneOfEach()
    {
        FitScatter scatter = new("anteversion", "Anteversion (°)", "Score", [3.0], [-2.0], [], [], [], [], []);
        return With(SampleResults.Study(), Question("Q2") with { Scatters = [scatter] }) with { Flow = [SampleResults.Study().Flow[0]] };
    }

    private static StudyResults ManyPoints()
    {
        FitScatter s = SampleQuestions.Scatter(5000);
        return With(SampleResults.Study(), Question("Q2") with { Scatters = [s with { X = [.. s.X.Select(x => -x)], LineX = [.. s.LineX.Select(x => -x)] }] });
    }

    private static StudyResults FarApart() => With(SampleResults.Study(), Question("Q4") with
    {
        Estimates =
        [
            SampleQuestions.Ratio("a", "near nothing", "odds ratio", 0.0002, 0, 0.004, 1e-12),
            SampleQuestions.Ratio("b", "very large", "odds ratio", 4000, 300, 53000, 1e-12),
            SampleQuestions.Ratio("c", "none", "odds ratio", 1, 0.97, 1.03, 0.9),
        ],
    });

    private static StudyResults NothingAnswered() => SampleResults.Study() with
    {
        Questions = [.. SampleResults.Study().Questions.Select(q => SampleQuestions.Unanswered() with { Id = q.Id })],
        Flow = [],
    };
}
