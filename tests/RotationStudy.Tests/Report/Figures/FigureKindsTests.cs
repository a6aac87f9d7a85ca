using RotationStudy.Report.Figures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Report.Figures;

public class FigureKindsTests
{
    private static readonly StudyResults Results = SamplePictures.Every(l => l);

    public static TheoryData<string> Kinds() => [.. FigureCatalog.Names];

    [Fact]
    public void Every_kind_that_a_protocol_can_name_is_drawn()
    {
        string[] declared = [.. Enum.GetNames<FigureKind>().Select(n => System.Text.Json.JsonNamingPolicy.SnakeCaseLower.ConvertName(n)).Order(StringComparer.Ordinal)];
        Assert.Equal(declared, FigureCatalog.Names);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Each_has_a_caption_with_numbers_a_methods_sentence_alternative_text_and_data(string kind)
    {
        FigureDrawing drawing = Draw(kind);
        Assert.NotEqual("note", drawing.Data.Columns[0]);
        Assert.NotEmpty(drawing.Data.Rows);
        Assert.Contains(drawing.Caption, char.IsDigit);
        Assert.True(drawing.AlternativeText.Length > 60, drawing.AlternativeText);
        Assert.StartsWith("A figure of the kind", drawing.AlternativeText, StringComparison.Ordinal);
        Assert.True(kind == "participant_flow" || drawing.Method.EndsWith('.'), drawing.Method);
        Assert.DoesNotContain("NaN", drawing.Caption + drawing.AlternativeText + drawing.Data.ToCsv(), StringComparison.Ordinal);
        Assert.All(drawing.Data.Rows, r => Assert.Equal(drawing.Data.Columns.Length, r.Length));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Without_results_each_says_why_there_is_no_picture(string kind)
    {
        StudyResults empty = SampleResults.Study() with { Questions = [], Flow = [] };
        FigureDrawing drawing = FigureCatalog.Lay(empty, Results.Figures.Single(f => f.Kind == kind));
        Assert.Equal("note", drawing.Data.Columns[0]);
        Assert.EndsWith(".", drawing.Caption, StringComparison.Ordinal);
    }

    [Fact]
    public void Small_counts_of_people_stand_in_no_data_file()
    {
        string csv = Draw("score_distributions").Data.ToCsv();
        Assert.Contains("<5", csv, StringComparison.Ordinal);
        Assert.DoesNotContain(",3\n", csv, StringComparison.Ordinal);
    }

    [Fact]
    public void Points_pairs_and_lines_in_the_data_are_those_of_the_results()
    {
        MeasurePair pair = Results.Values.Pairs[0];
        Assert.Equal(pair.Points.Select(p => (double?)p.X), Draw("paired_points").Data.Rows.Select(r => r[2].Number));
        LimitsLine[] limits = [.. Results.Questions.Single(q => q.Id == "A1").Agreement!.Limits];
        Assert.Equal(limits.Sum(l => l.Means.Length) + (3 * limits.Length), Draw("agreement_limits").Data.Rows.Length);
        Assert.Equal(Results.Values.Sides[0].Second.Select(v => (double?)v), Draw("side_slopes").Data.Rows.Select(r => r[2].Number));
    }

    [Fact]
    public void The_curve_of_a_mean_number_starts_at_zero_and_keeps_to_its_steps()
    {
        RisingCurve curve = Results.Questions.Single(q => q.Id == "Q5").Rising[0].Curves[1];
        var steps = Draw("mean_events").Data.Rows.Where(r => r[0].Text == "step" && r[2].Text == curve.Group).ToArray();
        Assert.Equal(curve.Times.Select(t => (double?)t), steps.Select(r => r[3].Number));
        Assert.Equal(curve.Value.Select(t => (double?)t), steps.Select(r => r[4].Number));
    }

    private static FigureDrawing Draw(string kind) => FigureCatalog.Lay(Results, Results.Figures.Single(f => f.Kind == kind));
}
