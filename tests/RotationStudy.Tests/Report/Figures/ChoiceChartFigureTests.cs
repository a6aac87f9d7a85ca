using RotationStudy.Report.Figures;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Tests.Report.Figures;

public sealed class ChoiceChartFigureTests
{
    private static readonly FigureRequest Request = new("choices", "choice_chart", "Every combination", ["Q5"], null);

    [Fact]
    public void The_data_hold_every_combination_once_smallest_first_and_failures_last()
    {
        FigureDrawing drawing = Lay(Garden(12));
        double?[] estimates = [.. drawing.Data.Rows.Select(r => r[3].Number)];
        Assert.Equal(12, estimates.Length);
        Assert.Null(estimates[^1]);
        Assert.Equal(estimates.Take(11).Order(), estimates.Take(11));
        Assert.Equal("the iteration did not end", drawing.Data.Rows[^1][^1].Text);
    }

    [Theory]
    [InlineData(2)]
    [InlineData(12)]
    [InlineData(600)]
    public void Labels_lie_inside_the_picture_and_do_not_touch(int fits)
    {
        FigurePage page = Lay(Garden(fits)).Page;
        SKRect paper = new(0, 0, page.Width, page.Height);
        Assert.All(page.Texts, t => Assert.True(paper.Contains(t.Box) && t.Size >= 7, t.Text));
        for (int i = 0; i < page.Texts.Count; i++)
        {
            for (int j = 0; j < i; j++)
                Assert.False(Overlap(page.Texts[i].Box, page.Texts[j].Box), $"'{page.Texts[i].Text}' covers '{page.Texts[j].Text}'.");
        }
    }

    [Fact]
    public void Without_any_estimate_the_figure_says_so()
    {
        ChoiceGarden garden = Garden(2);
        garden = garden with { Fits = [.. garden.Fits.Select(f => f with { Estimate = null, NotFitted = "no events" })] };
        Assert.Equal("No combination of choices could be fitted.", Lay(garden).Caption);
    }

    [Fact]
    public void Infinite_and_huge_intervals_keep_the_axis_readable()
    {
        ChoiceGarden garden = Garden(4);
        ChoiceFit wild = garden.Fits[1] with { Estimate = new ChoiceEstimate("odds ratio", 2, 0, double.PositiveInfinity, 0.9) };
        Assert.NotEmpty(Figure.Finish(Request, Lay(garden with { Fits = garden.Fits.SetItem(1, wild) })).InlineSvg);
    }

    private static FigureDrawing Lay(ChoiceGarden garden) => FigureCatalog.Lay(SampleResults.Study() with { Gardens = [garden] }, Request);

    private static ChoiceGarden Garden(int fits)
    {
        int options = fits / 2;
        const string Long = "A label that is much longer than the room that the chart can give to it, so it must be cut";
        return new ChoiceGarden(
            "Q5", "Femoral anteversion, per 10 degrees", "rate ratio", null, 1,
            [
                new ChoiceDecision("Model", [new ChoiceOptionFacts("planned model", "It is planned."), new ChoiceOptionFacts(Long, "It is long.")]),
                new ChoiceDecision(Long, [.. Enumerable.Range(0, options).Select(o => new ChoiceOptionFacts($"option {o}", "It exists."))]),
            ],
            [.. Enumerable.Range(0, fits).Select(i => Fit(i, fits, options))],
            fits, fits / 2, "In some combinations it holds.", ["Model: moves nothing."]);
    }

    private static ChoiceFit Fit(int i, int fits, int options)
    {
        double value = 0.8 + (i * 7 % fits) * 0.9 / fits;
        return i == fits - 1 && fits > 2
            ? new ChoiceFit([i / options, i % options], null, 90, 180, 30, "the iteration did not end")
            : new ChoiceFit([i / options, i % options], new ChoiceEstimate("rate ratio", value, value * 0.8, value * 1.3, 0.2), 90, 180, 30, null);
    }

    private static bool Overlap(SKRect a, SKRect b)
        => a.Left < b.Right - 0.1f && b.Left < a.Right - 0.1f && a.Top < b.Bottom - 0.1f && b.Top < a.Bottom - 0.1f;
}
