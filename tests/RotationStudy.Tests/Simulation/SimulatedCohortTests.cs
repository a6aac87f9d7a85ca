using RotationStudy.Simulation;
using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Scenarios;

namespace RotationStudy.Tests.Simulation;

/// <summary>The made-up cohort keeps within the guard rails of published rates, and holds the truth that it states.</summary>
public class SimulatedCohortTests
{
    private const int Large = 6000;

    private static readonly Lazy<SimulatedParticipant[]> Many = new(() => [.. Cohort(Large, 5, s => s).Participants()]);

    [Fact]
    public void A_participant_is_the_same_whatever_the_size_of_the_cohort_and_the_order_of_drawing()
    {
        SimulatedCohort small = Cohort(300, 9, s => s);
        SimulatedCohort large = Cohort(999, 9, s => s);
        SimulatedParticipant late = large.Participant(250);
        Assert.Equal(small.Participants().ElementAt(249).KneeExams.ToArray(), late.KneeExams.ToArray());
    }

    [Fact]
    public void Changing_one_part_of_the_scenario_changes_no_draw_of_another()
    {
        SimulatedParticipant plain = Cohort(10, 9, s => s).Participant(3);
        SimulatedParticipant other = Cohort(10, 9, s => s with { Imaging = s.Imaging with { ImagedShare = 0 } }).Participant(3);
        Assert.Empty(other.Images);
        Assert.Equal(plain.KneeExams.ToArray(), other.KneeExams.ToArray());
        Assert.Equal(plain.Visits.ToArray(), other.Visits.ToArray());
        Assert.Equal(plain.Knees.SelectMany(k => k.Events), other.Knees.SelectMany(k => k.Events));
    }

    [Fact]
    public void The_share_of_females_lies_between_45_and_65_percent()
        => Assert.InRange(Many.Value.Average(p => p.Person.Female ? 1.0 : 0), 0.45, 0.65);

    [Fact]
    public void Within_two_years_15_to_45_percent_of_unstable_knees_dislocate_again_and_a_few_percent_of_the_stable_other_knees()
    {
        (SimulatedParticipant P, SimulatedKnee K)[] watched = [.. Knees()
            .Where(x => x.P.FollowUp.LastContactDay >= 731 || FirstDislocation(x.K) <= 731)];
        Assert.InRange(Share(watched.Where(x => x.K.PriorInstability)), 0.15, 0.45);
        Assert.InRange(Share(watched.Where(x => !x.K.PriorInstability && x.P.Person.PriorInstability)), 0.01, 0.08);

        static double Share(IEnumerable<(SimulatedParticipant P, SimulatedKnee K)> knees)
            => knees.Average(x => FirstDislocation(x.K) <= 731 ? 1.0 : 0);
    }

    [Fact]
    public void An_operation_lowers_the_rate_of_later_dislocations_to_a_small_part()
    {
        double before = 0, after = 0, daysBefore = 0, daysAfter = 0;
        foreach ((SimulatedParticipant p, SimulatedKnee k) in Knees().Where(x => x.K.Events.Any(e => e.Kind == "operation")))
        {
            int operation = k.Events.First(e => e.Kind == "operation").Day;
            int first = FirstDislocation(k);
            before += k.Events.Count(e => e.Kind == "dislocation" && e.Day > first && e.Day < operation);
            after += k.Events.Count(e => e.Kind == "dislocation" && e.Day > operation);
            daysBefore += operation - first;
            daysAfter += p.FollowUp.LastContactDay - operation;
        }
        Assert.InRange(after / daysAfter / (before / daysBefore), 0, 0.2);
    }

    [Fact]
    public void Operations_follow_dislocations_milestones_follow_operations_and_nothing_follows_the_last_contact()
    {
        foreach ((SimulatedParticipant p, SimulatedKnee k) in Knees())
        {
            int[] days = [.. k.Events.Select(e => e.Day)];
            Assert.Equal(days.Distinct().Order(), days);
            Assert.All(days, d => Assert.InRange(d, 1, p.FollowUp.LastContactDay));
            if (k.Events.FirstOrDefault(e => e.Kind == "operation") is { } operation)
                Assert.True(FirstDislocation(k) < operation.Day);
            else
                Assert.Empty(k.Milestones);
            Assert.All(k.Milestones, m => Assert.InRange(m.Day, 1, p.FollowUp.LastContactDay));
            Assert.Equal(k.Milestones.Select(m => m.Day).Order(), k.Milestones.Select(m => m.Day));
        }
        Assert.All(Many.Value, p =>
        {
            Assert.Equal("baseline", p.Visits[0].Visit);
            Assert.Equal(p.Visits.Select(v => v.Day).Distinct().Order(), p.Visits.Select(v => v.Day));
            Assert.True(p.Visits[^1].Day <= p.FollowUp.LastContactDay);
        });
    }

    [Fact]
    public void Torsion_has_the_means_spreads_correlations_and_fall_with_age_that_the_scenario_states()
    {
        TorsionScenario t = DemoScenario.Read().Torsion;
        double[] left = [.. Many.Value.Select(p => AtGrowthEnd(p, 0))];
        double[] right = [.. Many.Value.Select(p => AtGrowthEnd(p, 1))];
        Assert.Equal(t.AnteversionMeanDegrees, left.Average(), 0.5);
        Assert.Equal(t.AnteversionKneeCorrelation, Correlation(left, right), 0.03);
        Assert.Equal(t.TibialRightMinusLeft, Many.Value.Average(p => p.Knees[1].Torsion.Tibial - p.Knees[0].Torsion.Tibial), 0.3);
        Assert.True(Many.Value.Where(p => p.Person.AgeYears < 13).Average(p => p.Knees[0].Torsion.AnteversionAtEnrolment)
            > Many.Value.Where(p => p.Person.AgeYears > 16).Average(p => p.Knees[0].Torsion.AnteversionAtEnrolment) + 2);

        double AtGrowthEnd(SimulatedParticipant p, int side)
            => p.Knees[side].Torsion.AnteversionOn(int.MaxValue) - (p.Person.Female ? t.AnteversionFemaleDifference : 0);
    }

    [Fact]
    public void Half_the_readings_or_more_are_multiples_of_five()
    {
        double[] angles = [.. Many.Value.Take(500).SelectMany(p => p.KneeExams).Select(e => e.ThighFootAngle)
            .Where(r => r.State == RotationStudy.Simulation.Readings.ReadingState.Recorded).Select(r => r.Value)];
        double heaped = angles.Average(a => a % 5 == 0 ? 1.0 : 0);
        double share = DemoScenario.Read().Exam.HeapingShare;
        Assert.Equal(share + ((1 - share) / 5), heaped, 0.02);
    }

    [Fact]
    public void Painful_visits_are_followed_by_more_drop_out()
    {
        SimulatedParticipant[] left = [.. Many.Value.Where(p => p.FollowUp.Reason != "study_end")];
        SimulatedParticipant[] stayed = [.. Many.Value.Where(p => p.FollowUp.Reason == "study_end")];
        Assert.InRange(left.Length / (double)Large, 0.08, 0.3);
        Assert.True(left.Average(p => p.Visits[^1].Pain.Value) > stayed.Average(p => p.Visits[^1].Pain.Value) + 0.1);
    }

    [Fact]
    public void The_stated_rate_ratios_come_back_from_crude_counting()
    {
        // First events only, without operations, recurrence and drop-out: counts over follow-up within strata of anteversion.
        SimulatedCohort cohort = Cohort(20000, 3, s => s with
        {
            Events = s.Events with { RecurrenceFactor = 1, OperationAfterFirst = 0, OperationAfterLater = 0, RatePerYear = 0.15, PriorRatePerYear = 0.15, LogPer10Tibial = 0, LogPerLaxity = 0, LogPerYearOfAge = 0, LogFemale = 0 },
            FollowUp = s.FollowUp with { DropOutPerYear = 0 },
        });
        Dictionary<int, (double Events, double Years, double Anteversion, int Knees)> strata = [];
        Lock gate = new();
        Parallel.For(1, 20001, number =>
        {
            SimulatedParticipant p = cohort.Participant(number);
            lock (gate)
            {
                foreach (SimulatedKnee k in p.Knees)
                {
                    int stratum = (int)Math.Floor(k.Torsion.AnteversionAtEnrolment / 10);
                    (double events, double years, double anteversion, int knees) = strata.GetValueOrDefault(stratum);
                    strata[stratum] = (events + k.Events.Count(e => e.Kind == "dislocation"), years + (p.FollowUp.LastContactDay / 365.25), anteversion + k.Torsion.AnteversionAtEnrolment, knees + 1);
                }
            }
        });
        double low = Rate(1), high = Rate(3);
        double tens = ((strata[3].Anteversion / strata[3].Knees) - (strata[1].Anteversion / strata[1].Knees)) / 10;
        Assert.Equal(DemoScenario.Read().Events.LogPer10Anteversion, Math.Log(high / low) / tens, 0.05);

        double Rate(int stratum) => strata[stratum].Events / strata[stratum].Years;
    }

    private static SimulatedCohort Cohort(int participants, int seed, Func<Scenario, Scenario> change)
    {
        Scenario scenario = DemoScenario.Read();
        return new SimulatedCohort(change(scenario with { Cohort = scenario.Cohort with { Participants = participants } }), seed);
    }

    private static IEnumerable<(SimulatedParticipant P, SimulatedKnee K)> Knees() => Many.Value.SelectMany(p => p.Knees, (p, k) => (p, k));

    private static int FirstDislocation(SimulatedKnee knee)
        => knee.Events.FirstOrDefault(e => e.Kind == "dislocation")?.Day ?? int.MaxValue;

    private static double Correlation(double[] x, double[] y)
    {
        double mx = x.Average(), my = y.Average();
        double xy = x.Zip(y, (a, b) => (a - mx) * (b - my)).Sum();
        return xy / Math.Sqrt(x.Sum(a => (a - mx) * (a - mx)) * y.Sum(b => (b - my) * (b - my)));
    }
}
