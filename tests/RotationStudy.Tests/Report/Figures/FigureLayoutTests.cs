using RotationStudy.Report.Figures;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Tests.Report.Figures;

public class FigureLayoutTests
{
    /// <summary>Every hard case, which hold short, longer and very long labels, in every figure, for every use.</summary>
    public static TheoryData<string, int, string> Cases()
    {
        TheoryData<string, int, string> cases = [];
        foreach ((string name, StudyResults results) in HardCases.All)
        {
            for (int figure = 0; figure < results.Figures.Length; figure++)
            {
                foreach (string use in FigureFiles.Uses)
                    cases.Add(name, figure, use);
            }
        }
        return cases;
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Labels_lie_inside_the_picture_and_do_not_touch(string name, int figure, string use)
    {
        FigurePage page = Lay(name, figure, use);
        SKRect paper = new(0, 0, page.Width, page.Height);
        foreach (FigureText text in page.Texts)
            Assert.True(paper.Contains(text.Box), $"'{text.Text}' at {text.Box} leaves the picture {paper}.");
        for (int i = 0; i < page.Texts.Count; i++)
        {
            for (int j = 0; j < i; j++)
                Assert.False(Overlap(page.Texts[i].Box, page.Texts[j].Box), $"'{page.Texts[i].Text}' covers '{page.Texts[j].Text}'.");
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void No_lettering_is_under_seven_points_in_print_or_eighteen_on_a_slide_and_every_letter_exists(string name, int figure, string use)
    {
        FigurePage page = Lay(name, figure, use);
        foreach (FigureText text in page.Texts)
        {
            Assert.True(text.Size * page.Style.Scale >= (page.Style.IsPrint ? 7 : 17.99), text.Text);
            Assert.True(Lettering.Covers(text.Text), text.Text);
        }
    }

    [Fact]
    public void Numbers_at_risk_stand_under_their_ticks()
    {
        StudyResults results = SampleResults.Study();
        FigurePage page = FigureCatalog.Lay(results, results.Figures[2]).Page;
        foreach ((string tick, string cell) in new[] { ("0", "201 (0)"), ("3", "84 (11)"), ("5", "5 (35)") })
        {
            FigureText label = page.Texts.Single(t => t.Text == tick);
            FigureText below = page.Texts.Single(t => t.Text == cell);
            Assert.Equal(label.X, below.X, 0.001f);
            Assert.True(below.Y > label.Y);
        }
    }

    [Fact]
    public void An_interval_that_runs_off_ends_in_an_arrow_and_its_numbers_stay()
    {
        StudyResults results = SampleResults.Study();
        FigurePage page = FigureCatalog.Lay(results, results.Figures[3]).Page;
        Assert.Contains(page.Texts, t => t.Text == "14.2 (3.90 to ∞)");

        StudyResults bounded = HardCases.With(results, results.Questions[3] with
        {
            Estimates = [results.Questions[3].Estimates[0], results.Questions[3].Estimates[1] with { Upper = 20 }],
        });
        Assert.Equal(1, Arrows(results) - Arrows(bounded));
    }

    [Fact]
    public void A_question_without_an_answer_keeps_its_line_in_the_forest()
    {
        StudyResults results = SampleResults.Study();
        FigurePage page = FigureCatalog.Lay(results, results.Figures[3]).Page;
        Assert.Contains(page.Texts, t => t.Text == "Q7 Derotation operations");
        Assert.Contains(page.Texts, t => t.Text == "no estimate: see the report");
    }

    [Fact]
    public void The_curve_passes_where_the_numbers_say()
    {
        EventFreeCurve curve = new("", "Years", [0, 1, 2], [1, 0.9, 0.6], [1, 0.8, 0.4], [1, 0.95, 0.75], [2.5], [0, 1, 2], [10, 9, 6], [0, 1, 4], "log-log");
        CurveSteps steps = CurveSteps.Of(curve);

        Assert.Equal([0, 1, 1, 2, 2, 2.5], steps.Times);
        Assert.Equal([1, 1, 0.9, 0.9, 0.6, 0.6], steps.Share);
        Assert.Equal(1, CurveSteps.At(curve, 0.99));
        Assert.Equal(0.9, CurveSteps.At(curve, 1));
        Assert.Equal(0.6, CurveSteps.At(curve, 7));
    }

    [Fact]
    public void A_kind_that_does_not_exist_is_named()
    {
        ArgumentException error = Assert.Throws<ArgumentException>(
            () => FigureCatalog.Draw(SampleResults.Study(), new FigureRequest("x", "pie", "x", [], null)));
        Assert.Contains("'pie'", error.Message, StringComparison.Ordinal);
        Assert.Contains("participant_flow", error.Message, StringComparison.Ordinal);
    }

    private static FigurePage Lay(string name, int figure, string use)
        => FigureCatalog.Lay(HardCases.All[name], HardCases.All[name].Figures[figure], FigureStyle.Of(use)).Page;

    private static bool Overlap(SKRect a, SKRect b)
        => a.Left < b.Right - 0.3f && b.Left < a.Right - 0.3f && a.Top < b.Bottom - 0.3f && b.Top < a.Bottom - 0.3f;

    /// <summary>Heads of arrows are the closed paths of three corners in the SVG.</summary>
    private static int Arrows(StudyResults results)
        => FigureCatalog.Draw(results, results.Figures[3]).Svg.Split('\n').Count(l => l.Contains("<path", StringComparison.Ordinal) && l.Count(c => c == 'L') is 2 or 3 && l.Contains('Z', StringComparison.Ordinal));
}
