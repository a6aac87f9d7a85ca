using System.Globalization;
using RotationStudy.Simulation;
using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Tests.Simulation;

/// <summary>The table "Is it plausible?" of synthetic-data/README.md is what the generator gives, and keeps within published ranges.</summary>
public class PlausibilityTableTests
{
    private const int Large = 5_000;
    private const double DaysPerYear = 365.25;
    private static readonly int[] Years = [1, 2, 5];

    private static readonly Lazy<Facts> Demo = new(() => Facts.Of(DemoScenario.Read()));
    private static readonly Lazy<Facts> Many = new(() => Facts.Of(WithParticipants(Large)));

    [Fact]
    public void The_table_in_the_readme_says_what_the_generator_gives()
    {
        string readme = File.ReadAllText(Path.Combine(Repository.Root, "synthetic-data", "README.md"));
        string expected = Table();
        Assert.True(readme.Contains(expected, StringComparison.Ordinal), $"Put this table into synthetic-data/README.md:\n{expected}");
    }

    [Fact]
    public void A_large_cohort_keeps_within_the_published_ranges()
    {
        Facts f = Many.Value;
        Assert.InRange(f.Female, 0.45, 0.65);
        Assert.InRange(f.MeanAge, 13.5, 16.5);
        // Recurrence: Sanders 2018 has 11, 21 and 37% at 1, 2 and 5 years, Arendt 2018 42% at 2 years.
        Assert.InRange(f.Unstable[0], 0.08, 0.30);
        Assert.InRange(f.Unstable[1], 0.15, 0.45);
        Assert.InRange(f.Unstable[2], 0.30, 0.60);
        Assert.Equal(f.Unstable.Order(), f.Unstable);
        // The other knee: 5.4% over 20 years (Christensen 2017); guard rail 3 to 12% over ten years.
        Assert.InRange(f.OtherKnee[2], 0.02, 0.12);
        Assert.InRange(f.AfterOperation, 0, 0.06);
        Assert.InRange(f.Operated, 0.1, 0.4);
    }

    private static string Table()
    {
        Facts d = Demo.Value, m = Many.Value;
        string[] rows =
        [
            "| | demo | 5,000 | published |",
            "| --- | --- | --- | --- |",
            Row("female", d.Female, m.Female, "54% of first dislocations (Sanders 2018, Sports Health)"),
            string.Create(CultureInfo.InvariantCulture, $"| mean age at enrolment, years | {d.MeanAge:0.0} | {m.MeanAge:0.0} | peak at 14 to 18 (Sanders 2018, Sports Health) |"),
            .. Years.Select((y, i) => Row($"an unstable knee dislocates within {Spell(y)}", d.Unstable[i], m.Unstable[i], Recurrence(y))),
            .. Years.Select((y, i) => Row($"the stable other knee dislocates within {Spell(y)}", d.OtherKnee[i], m.OtherKnee[i], y == 5 ? "5.4% over 20 years (Christensen 2017, AJSM)" : "")),
            Row("knees operated on, of those that dislocated in the study", d.Operated, m.Operated, "11% operated for recurrence (Sanders 2018, Sports Health); more at referral centres"),
            Row("of operations: ligament reconstruction", d.Ligament, m.Ligament, ""),
            Row("an operated knee dislocates within two years", d.AfterOperation, m.AfterOperation, "1.2% after reconstruction (Schneider 2016)"),
            Row("operated knees, watched for 18 months, back to sport", d.BackToSport, m.BackToSport, "84% (Schneider 2016)"),
        ];
        return string.Join('\n', rows) + "\n";
    }

    private static string Row(string what, double demo, double many, string published)
        => string.Create(CultureInfo.InvariantCulture, $"| {what} | {100 * demo:0}% | {100 * many:0}% | {published} |");

    private static string Spell(int years) => years switch { 1 => "1 year", _ => string.Create(CultureInfo.InvariantCulture, $"{years} years") };

    private static string Recurrence(int years) => years switch
    {
        1 => "11% population (Sanders 2018, KSSTA)",
        2 => "21% population (Sanders 2018, KSSTA), 42% referral (Arendt 2018, AJSM), 49% with prior instability over 2 to 5 years (Fithian 2004, AJSM)",
        _ => "37% population (Sanders 2018, KSSTA)",
    };

    private static Scenario WithParticipants(int participants)
    {
        Scenario demo = DemoScenario.Read();
        return demo with { Cohort = demo.Cohort with { Participants = participants } };
    }

    /// <summary>What a cohort holds. Shares over time by Kaplan and Meier, since not everybody is watched equally long.</summary>
    private sealed record Facts(
        double Female, double MeanAge, double[] Unstable, double[] OtherKnee, double Operated, double Ligament, double AfterOperation, double BackToSport)
    {
        internal static Facts Of(Scenario scenario)
        {
            SimulatedCohort cohort = new(scenario, DemoScenario.Seed);
            SimulatedParticipant[] people = new SimulatedParticipant[scenario.Cohort.Participants];
            Parallel.For(0, people.Length, i => people[i] = cohort.Participant(i + 1));
            (SimulatedParticipant P, SimulatedKnee K)[] knees = [.. people.SelectMany(p => p.Knees, (p, k) => (p, k))];
            (SimulatedParticipant P, SimulatedKnee K)[] dislocated = [.. knees.Where(x => x.K.Events.Any(e => e.Kind == "dislocation"))];
            (SimulatedParticipant P, SimulatedKnee K, KneeEvent Operation)[] operated =
                [.. knees.Where(x => x.K.Events.Any(e => e.Kind == "operation")).Select(x => (x.P, x.K, x.K.Events.First(e => e.Kind == "operation")))];
            var watched = operated.Where(x => x.P.FollowUp.LastContactDay - x.Operation.Day >= 548).ToArray();
            return new Facts(
                people.Average(p => p.Person.Female ? 1.0 : 0),
                people.Average(p => p.Person.AgeYears),
                Within(knees.Where(x => x.K.PriorInstability)),
                Within(knees.Where(x => !x.K.PriorInstability && x.P.Person.PriorInstability)),
                dislocated.Average(x => x.K.Events.Any(e => e.Kind == "operation") ? 1.0 : 0),
                operated.Average(x => x.Operation.OperationKind == "ligament_reconstruction" ? 1.0 : 0),
                AfterOperationWithinTwoYears(operated),
                watched.Average(x => x.K.Milestones.Any(m => m.Name == "return_to_sport") ? 1.0 : 0));
        }

        private static double[] Within(IEnumerable<(SimulatedParticipant P, SimulatedKnee K)> knees)
        {
            (double Day, bool Event)[] times = [.. knees.Select(x => x.K.Events.FirstOrDefault(e => e.Kind == "dislocation") is { } first
                ? ((double)first.Day, true)
                : (x.P.FollowUp.LastContactDay, false)).Where(t => t.Item1 > 0)];
            SurvivalCurve curve = KaplanMeier.Estimate(SurvivalTimes.RightCensored([.. times.Select(t => t.Day)], [.. times.Select(t => t.Event)]));
            return [.. Years.Select(y => 1 - curve.At(Math.Min(y * DaysPerYear, times.Max(t => t.Day))).Survival)];
        }

        private static double AfterOperationWithinTwoYears(IEnumerable<(SimulatedParticipant P, SimulatedKnee K, KneeEvent Operation)> knees)
        {
            (double Day, bool Event)[] times = [.. knees.Select(x => x.K.Events.FirstOrDefault(e => e.Kind == "dislocation" && e.Day > x.Operation.Day) is { } later
                ? ((double)later.Day - x.Operation.Day, true)
                : (x.P.FollowUp.LastContactDay - x.Operation.Day, false)).Where(t => t.Item1 > 0)];
            SurvivalCurve curve = KaplanMeier.Estimate(SurvivalTimes.RightCensored([.. times.Select(t => t.Day)], [.. times.Select(t => t.Event)]));
            return 1 - curve.At(Math.Min(2 * DaysPerYear, times.Max(t => t.Day))).Survival;
        }
    }
}
