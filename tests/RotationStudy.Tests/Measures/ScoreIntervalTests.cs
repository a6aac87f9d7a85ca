using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Measures;

/// <summary>Scores with components missing, bounds across definitions, and cut-offs read through them; all by arithmetic.</summary>
public class ScoreIntervalTests
{
    private static readonly Place Nowhere = new("test.yaml", 1, 1);

    private static readonly CriteriaScoreMeasure Score = new(
        "score", "Score", null, null, null, Nowhere, "exams", "baseline",
        [
            new ScoreComponent("internal", ComponentTest.AtLeast, 90, null),
            new ScoreComponent("external", ComponentTest.MoreThan, 10, null),
            new ScoreComponent("hip", ComponentTest.Is, double.NaN, "free"),
        ]);

    [Fact]
    public void A_joint_at_the_edge_counts_by_at_least_and_not_by_more_than()
    {
        // 90 counts by "at least 90"; 10 does not count by "more than 10"; the code counts: 2.
        Assert.Equal(2, Left(90, 10)["score"].Values[0]);
        Assert.Equal(3, Left(90, 10.5)["score"].Values[0]);
        Assert.Equal(1, Left(89, 10)["score"].Values[0]);
    }

    [Fact]
    public void A_missing_component_makes_an_interval_and_not_a_share()
    {
        DerivedMeasures measures = Left(95, null);
        Assert.Equal("one component missing", measures["score"].Reason(0));
        Assert.Equal(2, measures["lowest"].Values[0]);
        Assert.Equal(3, measures["highest"].Values[0]);
    }

    [Fact]
    public void A_whole_score_has_equal_bounds()
    {
        DerivedMeasures measures = Left(95, 20);
        Assert.Equal([3.0, 3.0], [measures["lowest"].Values[0], measures["highest"].Values[0]]);
    }

    // Nine from seven: S9 = S7 - (knees between 0 and 10 degrees) + elbows, both 0 to 2.
    [Theory]
    [InlineData(0, 0, 2)]
    [InlineData(1, 0, 3)]
    [InlineData(3, 1, 5)] // Up to 3 of seven rules out 6 of nine.
    [InlineData(4, 2, 6)]
    [InlineData(7, 5, 9)] // Even 7 of seven does not make 6 of nine certain.
    public void Seven_components_bound_nine_and_no_more(int seven, int lowest, int highest)
    {
        DerivedMeasures measures = new MeasureFixture().Participant("A").Exam("A", "L", seven, 0)
            .Measure(MeasureFixture.Baseline("seven", "internal"))
            .Measure(Bound("nine_lowest", "seven", BoundEnd.Lowest, 2, 9)).Measure(Bound("nine_highest", "seven", BoundEnd.Highest, 2, 9))
            .Derive();
        Assert.Equal(lowest, measures["nine_lowest"].Values[0]);
        Assert.Equal(highest, measures["nine_highest"].Values[0]);
    }

    [Fact]
    public void A_cut_off_is_read_where_both_ends_of_the_interval_agree()
    {
        Assert.Equal(1, Left(95, null, cutOff: 2)["cut"].Values[0]); // 2 to 3 against 2: reached.
        Assert.Equal(CutOffReading.CannotTell, Left(95, null, cutOff: 3)["cut"].Reason(0)); // 2 to 3 against 3.
        Assert.Equal(0, Left(80, null, cutOff: 3)["cut"].Values[0]); // 1 to 2 against 3: below.
    }

    [Fact]
    public void The_cut_off_of_the_persons_age_counts()
    {
        // 2 points: below 3 under 18 years, at 2 from 18 years on.
        Assert.Equal(0, Left(95, 5, age: 17.9, rows: [new CutOffRow(0, 18, 3), new CutOffRow(18, 51, 2)])["cut"].Values[0]);
        Assert.Equal(1, Left(95, 5, age: 18, rows: [new CutOffRow(0, 18, 3), new CutOffRow(18, 51, 2)])["cut"].Values[0]);
        Assert.Equal("no cut-off for this age", Left(95, 5, age: 60, rows: [new CutOffRow(0, 51, 3)])["cut"].Reason(0));
    }

    private static ScoreBoundMeasure Bound(string id, string of, BoundEnd end, int moved, int highest)
        => new(id, id, null, null, null, Nowhere, of, end, moved, moved, highest);

    private static DerivedMeasures Left(double? inner, double? outer, double cutOff = 2, double age = 15, ImmutableArray<CutOffRow> rows = default)
        => new MeasureFixture().Participant("A", age: age).Exam("A", "L", inner, outer).Measure(MeasureFixture.Person("age")).Measure(Score)
            .Measure(Bound("lowest", "score", BoundEnd.Lowest, 0, 3)).Measure(Bound("highest", "score", BoundEnd.Highest, 0, 3))
            .Measure(new CutOffMeasure("cut", "cut", null, null, null, Nowhere, "score", "age", rows.IsDefault ? [new CutOffRow(0, 120, cutOff)] : rows))
            .Derive();
}
