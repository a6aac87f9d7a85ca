using System.Text;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Measures;

/// <summary>Events, recovery, diaries, scores and flags of the shipped knee protocol, worked out by hand. Four invented participants, last contact on day 800.</summary>
public class CourseMeasuresTests
{
    // Rows are ordered by participant, then side: A-001 L and R, A-002 L and R, B-001, C-001.
    private const int FirstLeft = 0;
    private const int FirstRight = 1;
    private const int SecondLeft = 2;

    [Fact]
    public void A_knee_that_enters_late_is_at_risk_from_its_entry_on_and_earlier_events_do_not_count()
    {
        DerivedMeasures m = Derive(e => e
            .AddRow("events.csv", "A-001,R,1,50,dislocation,none").AddRow("events.csv", "A-001,R,2,150,dislocation,none")
            .SetBytes("knees.csv", Text("participant_id,side,dislocated_before,entry_day\nA-001,R,no,100\n")));
        Assert.Equal(700, m["follow_up_days"].Values[FirstRight]);
        Assert.Equal(1, m["dislocations"].Values[FirstRight]);
        Assert.Equal(150, m["first_dislocation_day"].Values[FirstRight]);
        // The left knee has no row: it enters at enrolment and ends at its operation on day 420.
        Assert.Equal(0, m["entry_day"].Values[FirstLeft]);
        Assert.Equal(420, m["follow_up_days"].Values[FirstLeft]);
        Assert.Equal("7 without a row enter at enrolment.", m["entry_day"].Note);
    }

    [Fact]
    public void A_day_of_entry_after_the_last_contact_leaves_no_follow_up_and_says_so()
    {
        DerivedMeasures m = Derive(e => e.SetBytes("knees.csv", Text("participant_id,side,dislocated_before,entry_day\nA-002,L,no,800\n")));
        Assert.Equal("no follow-up after the day of entry", m["follow_up_days"].Reason(SecondLeft));
        Assert.Equal("no follow-up after the day of entry", m["dislocations"].Reason(SecondLeft));
    }

    [Fact]
    public void Reports_within_seven_days_of_the_last_that_counted_are_one_event()
    {
        // 100 counts; 105 is 5 days later; 112 is 12 days after 100; 113 is one day after 112.
        DerivedMeasures m = Derive(e => e
            .AddRow("events.csv", "A-002,L,1,100,dislocation,none").AddRow("events.csv", "A-002,L,2,105,dislocation,none")
            .AddRow("events.csv", "A-002,L,3,112,dislocation,none").AddRow("events.csv", "A-002,L,4,113,dislocation,none"));
        Assert.Equal(2, m["dislocations"].Values[SecondLeft]);
        Assert.Equal(1, m["recurred"].Values[SecondLeft]);
        Assert.Equal(0, m["recurred"].Values[FirstLeft]);
    }

    [Fact]
    public void Subluxations_and_dislocations_are_counted_apart()
    {
        DerivedMeasures m = Derive(e => e.AddRow("events.csv", "A-002,L,1,100,subluxation,none").AddRow("events.csv", "A-002,L,2,300,subluxation,none"));
        Assert.Equal((2.0, 0.0), (m["subluxations"].Values[SecondLeft], m["dislocations"].Values[SecondLeft]));
    }

    [Fact]
    public void The_other_knee_is_that_of_the_same_person_within_the_follow_up_of_this_one()
    {
        DerivedMeasures m = Derive(e => e.AddRow("events.csv", "A-002,R,1,500,dislocation,none").AddRow("events.csv", "A-002,L,1,400,operation,derotation"));
        // the left dislocated on day 200, so the right has a dislocated other knee and the left none.
        Assert.Equal((0.0, 1.0), (m["other_knee_dislocated"].Values[FirstLeft], m["other_knee_dislocated"].Values[FirstRight]));
        // the right dislocated on day 500, after the left's follow-up had ended at its operation on day 400.
        Assert.Equal(0, m["other_knee_dislocated"].Values[SecondLeft]);
    }

    [Fact]
    public void Operations_are_told_apart_by_their_kind()
    {
        DerivedMeasures m = Derive(e => e.AddRow("events.csv", "A-002,L,1,400,operation,derotation"));
        Assert.Equal((1.0, 1.0, 0.0), (m["operated"].Values[FirstLeft], m["ligament_reconstructed"].Values[FirstLeft], m["bones_operated"].Values[FirstLeft]));
        Assert.Equal((1.0, 0.0, 1.0), (m["operated"].Values[SecondLeft], m["ligament_reconstructed"].Values[SecondLeft], m["bones_operated"].Values[SecondLeft]));
        Assert.Equal(0, m["operated"].Values[FirstRight]);
    }

    [Fact]
    public void Of_competing_events_the_first_counts_with_its_day_and_on_one_day_the_one_named_first()
    {
        DerivedMeasures m = Derive(e => e
            .AddRow("events.csv", "A-002,L,1,300,operation,derotation").AddRow("events.csv", "A-002,L,2,500,dislocation,none")
            .AddRow("events.csv", "A-002,R,1,250,operation,derotation").AddRow("events.csv", "A-002,R,2,250,dislocation,none"));
        Assert.Equal(["dislocation", "none of them", "operation", "dislocation"], Codes(m["first_event"]).Take(4));
        Assert.Equal([200, 800, 300, 250], m["first_event_day"].Values.Take(4));
    }

    [Fact]
    public void Times_after_an_operation_are_in_weeks_and_what_was_not_reached_is_watched_to_the_end()
    {
        DerivedMeasures m = Derive(_ => { });
        // Operation on day 420, full weight on day 470, return to sport not reached by day 800.
        Assert.Equal(50 / 7.0, m["weeks_to_weight_bearing"].Values[FirstLeft], 12);
        Assert.Equal("not reached during follow-up", m["weeks_to_sport"].Reason(FirstLeft));
        Assert.Equal(0, m["returned_to_sport"].Values[FirstLeft]);
        Assert.Equal(380 / 7.0, m["weeks_watched_for_sport"].Values[FirstLeft], 12);
        Assert.Equal("no operation during follow-up", m["weeks_to_weight_bearing"].Reason(FirstRight));
    }

    [Fact]
    public void A_milestone_dated_before_the_operation_is_set_aside_with_that_reason_and_an_earlier_image_is_not()
    {
        DerivedMeasures m = Derive(e => e
            .AddRow("milestones.csv", "A-001,L,hopping,300").AddRow("imaging.csv", "A-001,L,2,215,mri,NA,NA,NA,14,1.2,b,18,none"));
        Assert.Equal("dated before the operation", m["weeks_to_hopping"].Reason(FirstLeft));
        // Dislocation on day 200, an image on day 10 and one on day 215.
        Assert.Equal(15, m["days_to_mri"].Values[FirstLeft]);
        Assert.Equal("no dislocation during follow-up", m["days_to_mri"].Reason(FirstRight));
    }

    [Theory]
    [InlineData("normal_walking,500|hopping,600", "in order")]
    [InlineData("normal_walking,600|hopping,500", "out of order")]
    [InlineData("hopping,500", "one left out")]
    [InlineData("normal_walking,470", "in order")]
    public void Milestones_are_in_order_out_of_order_or_one_is_left_out(string milestones, string expected)
    {
        DerivedMeasures m = Derive(e =>
        {
            foreach (string milestone in milestones.Split('|'))
                e.AddRow("milestones.csv", $"A-001,L,{milestone}");
        });
        Assert.Equal(expected, Codes(m["recovery_order"])[FirstLeft]);
    }

    [Fact]
    public void Days_become_weeks_by_the_rule_of_wear_and_the_fewest_days()
    {
        // Week 1 is day 1 to 7. Steps: days 1 to 4 worn 12 hours, day 5 worn 9.9 hours, day 6 without hours.
        DerivedMeasures m = Derive(e => e.SetBytes("diary.csv", Diary(
            "1,1000,2,0,12", "2,2000,2,70,12", "3,3000,2,0,10", "4,4000,4,0,12", "5,9000,NA,0,9.9", "6,9000,5,0,",
            "8,5000,1,10,12", "9,5000,1,10,12", "10,5000,1,10,12",
            "22,100,1,10,12", "23,100,1,10,12", "24,100,1,10,12", "25,100,1,10,12")));
        Assert.Equal(4, m["weekly_steps"].Index.Rows);
        Assert.Equal(2500, m["weekly_steps"].Values[0]);
        Assert.Equal((2.0 + 2 + 2 + 4 + 5) / 5, m["weekly_pain"].Values[0]);
        Assert.Equal(70 / 6.0, m["weekly_load"].Values[0], 12);
        Assert.Equal("fewer than 4 days that count", m["weekly_steps"].Reason(1));
        Assert.Equal("no day in the diary", m["weekly_steps"].Reason(2));
        Assert.Equal(100, m["weekly_steps"].Values[3]);
    }

    [Fact]
    public void The_week_before_and_the_distance_from_the_own_mean_stay_within_the_person()
    {
        DerivedMeasures m = Derive(e => e.SetBytes("diary.csv", Diary([.. Week(1, 100), .. Week(2, 200), .. Week(3, 600)])));
        MeasureColumn before = m["load_week_before"];
        Assert.Equal("no week before", before.Reason(0));
        Assert.Equal([100, 200], before.Values.Skip(1));
        Assert.Equal([-50, 50], m["load_before_within"].Values.Skip(1));
        Assert.Equal(150, m["load_before_mean"].Values[0]);
        Assert.Equal("no week with a value", m["load_before_mean"].Reason(1));

        static IEnumerable<string> Week(int week, int load)
            => Enumerable.Range(1, 7).Select(d => FormattableString.Invariant($"{((week - 1) * 7) + d},100,1,{load},12"));
    }

    [Fact]
    public void Two_different_changes_in_one_week_are_marked_and_the_same_change_twice_is_one()
    {
        DerivedMeasures m = Derive(e => e.SetBytes("diary.csv", Text(
            "participant_id,diary_day,steps,pain_0_10,training_load,wear_hours,planned_change\n"
            + "A-001,1,1,1,1,12,distance\nA-001,3,1,1,1,12,speed\nA-001,8,1,1,1,12,strength\nA-001,9,1,1,1,12,strength\nA-001,15,1,1,1,12,none\n")));
        Assert.Equal([2.0, 1.0, 0.0], m["changes_of_week"].Values.ToArray());
        Assert.Equal("1 weeks have more than one change at a time.", m["changes_of_week"].Note);
    }

    [Fact]
    public void Without_a_diary_there_are_no_weeks_and_nothing_fails()
        => Assert.Equal(0, Derive(_ => { })["weekly_pain"].Index.Rows);

    [Fact]
    public void A_score_from_items_needs_as_many_answers_as_its_rule_says()
    {
        // Items 0 to 4, five of eight needed: A-001 all 3 gives 75; A-002 five answered, 4 4 4 4 0, gives 80; B-001 four answered.
        DerivedMeasures m = Derive(e => e.SetBytes("function_items.csv", Text(
            "participant_id,visit,item_1,item_2,item_3,item_4,item_5,item_6,item_7,item_8\n"
            + "A-001,month_12,3,3,3,3,3,3,3,3\nA-002,month_12,4,4,4,4,0,,,\nB-001,month_12,4,4,4,4,,,,\n")));
        MeasureColumn score = m["activity_score"];
        Assert.Equal([75, 80], score.Values.Take(2));
        Assert.Equal("fewer than 5 of 8 items answered", score.Reason(2));
        Assert.Equal("1 scores rest on the items answered, with one or more missing.", score.Note);
    }

    [Fact]
    public void A_change_is_clear_from_the_smallest_detectable_change_on()
    {
        // Baseline 72.5 for all; 23.8 is the smallest detectable change. 96.3 - 72.5 is 23.8, 96 - 72.5 is not enough.
        DerivedMeasures m = Derive(e =>
        {
            e.Set("outcomes.csv", 2, "knee_function_score", "70").Set("outcomes.csv", 3, "knee_function_score", "93.8");
            e.Set("outcomes.csv", 5, "knee_function_score", "93.7").Set("outcomes.csv", 4, "knee_function_score", "70");
            e.Set("outcomes.csv", 7, "knee_function_score", "40");
        });
        Assert.Equal(["better", "no clear change", "worse", "no clear change"], Codes(m["function_change"]));
        Assert.Contains("cannot be told from error", m["function_change"].Note);
    }

    [Theory]
    [InlineData("yes,yes,yes,yes,no,yes,yes,no,no,no", 1.0)]
    [InlineData("yes,yes,yes,no,no,yes,yes,no,no,no", 0.0)]
    [InlineData("yes,yes,yes,yes,no,yes,no,no,no,no", 0.0)]
    [InlineData("no,yes,yes,yes,yes,yes,yes,yes,yes,no", 0.0)]
    [InlineData("yes,yes,yes,yes,yes,yes,yes,yes,yes,yes", 0.0)]
    [InlineData("yes,yes,yes,yes,,yes,yes,no,no,no", null)]
    [InlineData("yes,yes,yes,yes,,yes,yes,no,no,yes", 0.0)]
    public void The_flag_needs_all_published_conditions_and_stays_open_while_one_is_not_known(string answers, double? expected)
    {
        DerivedMeasures m = Derive(e => e.SetBytes("pain_signs.csv", Text(
            "participant_id,visit,side,pain_out_of_proportion,symptom_feeling,symptom_skin,symptom_sweat_swelling,symptom_movement,"
            + $"sign_feeling,sign_skin,sign_sweat_swelling,sign_movement,other_explanation\nA-001,month_12,L,{answers}\n")));
        MeasureColumn flag = m["disproportionate_pain"];
        int row = flag.Index.Find(new RowKey(0, 0, m.Keys.Occasions.IndexOf("month_12")));
        Assert.Equal(expected, flag.HasValue(row) ? flag.Values[row] : null);
        Assert.StartsWith("Pain out of proportion to what happened: no row", flag.Reason(0), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_measure_says_in_words_what_it_is()
    {
        foreach (MeasureDefinition measure in TestExport.Protocol.Measures)
            Assert.True(MeasureWords.Describe(measure, TestExport.Protocol).Length > 10, measure.Id);
        Assert.Contains(
            "operation with ligament reconstruction",
            MeasureWords.Describe(TestExport.Protocol.Measure("ligament_reconstructed"), TestExport.Protocol));
    }

    private static string[] Codes(MeasureColumn column) => [.. column.Values.Select(v => column.Codes[(int)v].Code)];

    private static byte[] Text(string text) => Encoding.UTF8.GetBytes(text);

    private static byte[] Diary(params string[] days)
        => Text("participant_id,diary_day,steps,pain_0_10,training_load,wear_hours,planned_change\n" + string.Concat(days.Select(d => $"A-001,{d},none\n")));

    private static DerivedMeasures Derive(Action<TestExport> change)
    {
        using TestExport export = TestExport.Clean();
        change(export);
        return MeasureDeriver.Derive(TestExport.Protocol, export.Check());
    }
}
