using RotationStudy.Report;
using RotationStudy.Report.Sections;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Measures;

/// <summary>The table of a cohort under each definition, counted by hand.</summary>
public class ScoreReadingsTests
{
    private static readonly Place Nowhere = new("test.yaml", 1, 1);

    [Fact]
    public void Each_definition_counts_the_cohort_by_itself_and_two_stand_side_by_side()
    {
        ScoreReadings scores = Build();
        ScoreReadingLine atLeast = scores.Lines[0];
        ScoreReadingLine moreThan = scores.Lines[1];
        // Left sides of four people: 90, 95, 40 and not recorded; right sides have no row, so they are not read.
        Assert.Equal((2, 1, 1, 4), (atLeast.Reached, atLeast.Below, atLeast.CannotTell, atLeast.NotRead));
        Assert.Equal((1, 2, 1, 4), (moreThan.Reached, moreThan.Below, moreThan.CannotTell, moreThan.NotRead));
        ScoreReadingPair pair = Assert.Single(scores.Pairs);
        Assert.Equal((1, 1, 0, 1), (pair.Both, pair.FirstOnly, pair.SecondOnly, pair.Neither));
    }

    [Fact]
    public void Criteria_are_printed_as_chosen()
    {
        ScoreReadings scores = Build();
        Assert.Contains("internal at least 90", scores.Lines[0].Criteria, StringComparison.Ordinal);
        Assert.Contains("internal more than 90", scores.Lines[1].Criteria, StringComparison.Ordinal);
    }

    [Fact]
    public void Small_counts_are_hidden_in_the_file_as_on_the_page()
    {
        string csv = ScoreReadingsSection.Lines(Build(), new SmallCounts(5)).ToCsv();
        Assert.Contains(",<5,<5,<5,<5\n", csv, StringComparison.Ordinal);
    }

    [Fact]
    public void A_protocol_without_a_cut_off_has_no_table()
    {
        MeasureFixture fixture = new MeasureFixture().Participant("A").Exam("A", "L", 1, 1);
        DerivedMeasures measures = fixture.Derive();
        Assert.Null(ScoreReadingsBuilder.Build(fixture.Protocol!, measures));
    }

    private static ScoreReadings Build()
    {
        MeasureFixture fixture = new MeasureFixture().Measure(MeasureFixture.Person("age"));
        foreach ((string id, double? degrees) in new (string, double?)[] { ("A", 90), ("B", 95), ("C", 40), ("D", null) })
            fixture.Participant(id).Exam(id, "L", degrees, 1);
        foreach (ComponentTest test in new[] { ComponentTest.AtLeast, ComponentTest.MoreThan })
        {
            fixture.Measure(new CriteriaScoreMeasure($"score_{test}", $"{test}", null, null, null, Nowhere, "exams", "baseline", [new ScoreComponent("internal", test, 90, null)]))
                .Measure(new CutOffMeasure($"cut_{test}", $"cut {test}", null, null, null, Nowhere, $"score_{test}", "age", [new CutOffRow(0, 120, 1)]));
        }
        DerivedMeasures measures = fixture.Derive();
        return ScoreReadingsBuilder.Build(fixture.Protocol!, measures)!;
    }
}
