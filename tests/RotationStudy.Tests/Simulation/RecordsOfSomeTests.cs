using RotationStudy.Simulation;
using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Readings;
using RotationStudy.Simulation.Scenarios;

namespace RotationStudy.Tests.Simulation;

/// <summary>Screening, late entry, second reports, images after injuries, diaries, tracking and forms keep the truth that the scenario states.</summary>
public class RecordsOfSomeTests
{
    private static readonly Scenario Demo = DemoScenario.Read();
    private static readonly Lazy<SimulatedParticipant[]> Many = new(() => [.. Cohort(2500).Participants()]);

    [Fact]
    public void The_screening_log_agrees_with_the_roster_by_site_and_names_no_participant()
    {
        string demo = Path.Combine(Repository.Root, "synthetic-data", "demo");
        string[][] roster = [.. Rows("participants.csv")];
        string[][] log = [.. Rows("screening.csv")];
        foreach (string site in new[] { "A", "B", "C" })
            Assert.Equal(roster.Count(r => r[1] == site), log.Count(r => r[1] == site && r[2] == "enrolled"));
        Assert.All(log, r => Assert.Equal(r[2] == "enrolled", r[3] == "NA"));
        Assert.Empty(log.Select(r => r[0]).Intersect(roster.Select(r => r[0])));
        // The order of sites among the enrolled is not that of the roster, so no row can be matched by counting.
        Assert.NotEqual(roster.Select(r => r[1]), log.Where(r => r[2] == "enrolled").Select(r => r[1]));

        IEnumerable<string[]> Rows(string file) => File.ReadLines(Path.Combine(demo, file)).Skip(1).Select(l => l.Split(','));
    }

    [Fact]
    public void Only_stable_knees_enter_late_and_nothing_is_reported_before()
    {
        SimulatedKnee[] late = [.. Many.Value.SelectMany(p => p.Knees).Where(k => k.EntryDay > 0)];
        Assert.NotEmpty(late);
        Assert.All(late, k => Assert.False(k.PriorInstability));
        Assert.All(late, k => Assert.All(k.Reports, r => Assert.True(r.Day > k.EntryDay)));
    }

    [Fact]
    public void Second_reports_come_within_days_of_a_dislocation_at_the_stated_share()
    {
        int first = 0, second = 0;
        foreach (SimulatedParticipant p in Many.Value)
        {
            foreach (SimulatedKnee k in p.Knees)
            {
                KneeEvent[] added = [.. k.Reports.Except(k.Events)];
                second += added.Length;
                first += k.Events.Count(e => e.Kind == "dislocation" && e.Day > k.EntryDay);
                Assert.All(added, r => Assert.Contains(k.Events, e => e.Kind == r.Kind && r.Day - e.Day >= 1 && r.Day - e.Day <= Demo.Reports.SecondReportLatestDays));
                Assert.All(k.Reports, r => Assert.True(r.Day <= p.FollowUp.LastContactDay));
            }
        }
        Assert.Equal(Demo.Reports.SecondReportShare, second / (double)first, 0.02);
    }

    [Fact]
    public void An_image_after_an_injury_follows_a_reported_dislocation_and_has_no_torsion()
    {
        int found = 0;
        foreach (SimulatedParticipant p in Many.Value)
        {
            foreach (ImagingReading image in p.Images.Where(i => i.Method == "NA"))
            {
                SimulatedKnee knee = p.Knees.Single(k => k.Side == image.Side);
                Assert.True(image.Day > knee.Reports.First(r => r.Kind == "dislocation").Day);
                Assert.Equal(Reading.NotDone, image.Anteversion);
                Assert.Contains(p.Images, i => i.Side == image.Side && i.Number < image.Number && i.Method != "NA");
                found++;
            }
        }
        Assert.NotEqual(0, found);
    }

    [Fact]
    public void Pain_of_a_week_follows_the_load_of_the_week_before_within_the_person()
    {
        double xy = 0, xx = 0;
        foreach (DiaryDay[] diary in Many.Value.Select(p => p.Diary.ToArray()).Where(d => d.Length > 0))
        {
            Dictionary<int, double> load = Weekly(diary, d => d.TrainingLoad);
            (double Load, double Pain)[] pairs = [.. Weekly(diary, d => d.Pain)
                .Where(w => load.ContainsKey(w.Key - 1)).Select(w => (load[w.Key - 1], w.Value))];
            if (pairs.Length < 3)
                continue;
            double meanLoad = pairs.Average(x => x.Load), meanPain = pairs.Average(x => x.Pain);
            xy += pairs.Sum(x => (x.Load - meanLoad) * (x.Pain - meanPain));
            xx += pairs.Sum(x => (x.Load - meanLoad) * (x.Load - meanLoad));
        }
        // Missing days blur the load of a week, and whole numbers from 0 cut pain: both pull the slope towards 0 a little.
        Assert.InRange(100 * xy / xx, 0.75 * Demo.Diary.PainPer100LoadLastWeek, 1.05 * Demo.Diary.PainPer100LoadLastWeek);

        static Dictionary<int, double> Weekly(DiaryDay[] diary, Func<DiaryDay, Reading> value)
            => diary.Where(d => value(d).State == ReadingState.Recorded).GroupBy(d => (d.Day - 1) / 7)
                .Where(g => g.Count() >= 5).ToDictionary(g => g.Key, g => g.Average(d => value(d).Value));
    }

    [Fact]
    public void A_diary_changes_one_thing_at_a_time_with_stated_exceptions_and_steps_fall_with_the_hours_worn()
    {
        DiaryDay[] days = [.. Many.Value.SelectMany(p => p.Diary)];
        Assert.All(days, d => Assert.InRange(d.Pain.Value, 0, 10));
        double worn = Steps(d => d.WearHours.Value > 12), takenOff = Steps(d => d.WearHours.Value is > 0 and < 6);
        Assert.True(takenOff < worn / 2);
        double changes = days.Count(d => d.Change != "none");
        Assert.InRange(changes / days.Length, 1 / 16.0, 1 / 12.0);

        double Steps(Func<DiaryDay, bool> keep)
            => days.Where(d => d.WearHours.State == ReadingState.Recorded && d.Steps.State == ReadingState.Recorded && keep(d)).Average(d => d.Steps.Value);
    }

    [Fact]
    public void Knees_unstable_before_enrolment_track_further_out_at_extension_and_alike_in_flexion()
    {
        Assert.Equal(Demo.Tracking.ExtensionShiftPriorMm, Mean(0, true) - Mean(0, false), 0.5);
        Assert.Equal(0, Mean(90, true) - Mean(90, false), 0.5);

        static double Mean(int flexion, bool prior) => Many.Value.SelectMany(p => p.Curves, (p, c) => (Knee: p.Knees.Single(k => k.Side == c.Side), Curve: c))
            .Where(x => x.Curve.Flexion == flexion && x.Knee.PriorInstability == prior && x.Curve.Shift.State == ReadingState.Recorded)
            .Average(x => x.Curve.Shift.Value);
    }

    [Fact]
    public void Items_go_with_the_function_score_and_some_forms_are_half_empty()
    {
        SimulatedParticipant[] people = [.. Many.Value.Take(500)];
        ItemForm[] forms = [.. people.SelectMany(p => p.Forms)];
        double[] complete = [.. forms.Where(f => f.Items.All(i => i.State == ReadingState.Recorded)).Select(f => f.Items.Average(i => i.Value) * 25)];
        Assert.Equal(people.SelectMany(p => p.Visits).Where(v => v.Function.State == ReadingState.Recorded).Average(v => v.Function.Value), complete.Average(), 2.0);
        Assert.InRange(forms.Count(f => f.Items.Count(i => i.State != ReadingState.Recorded) >= 4) / (double)forms.Length, 0.01, 0.04);
    }

    private static SimulatedCohort Cohort(int participants)
        => new(Demo with { Cohort = Demo.Cohort with { Participants = participants } }, 5);
}
