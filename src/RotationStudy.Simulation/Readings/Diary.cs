using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>Diaries of steps, pain and training over some weeks, with days not worn, days missing, and planned changes of training.</summary>
/// <remarks>
/// Weeks run from day 7w + 1 to 7w + 7 since enrolment. Pain of a day follows the mean daily load of the week before,
/// within the person: that is the effect an analysis of weeks looks for. Steps fall with the hours worn.
/// </remarks>
internal static class Diary
{
    private const int WeekDays = 7;
    private const double WakingHours = 15;
    private static readonly string[] Changes = ["distance", "speed", "strength", "drills"];

    internal static IEnumerable<DiaryDay> Keep(Scenario scenario, int lastContactDay, NamedStreams streams)
    {
        DiaryScenario diary = scenario.Diary;
        RandomDraws choice = streams.Open("diary");
        if (!choice.Happens(diary.KeptShare))
            yield break;
        int start = (WeekDays * (int)choice.Between(0, 8)) + 1;
        int days = Math.Min(diary.Weeks * WeekDays, lastContactDay - start + 1);
        if (days < WeekDays)
            yield break;
        string[] changes = PlannedChanges(diary, days, streams.Open("diary changes"));
        double[] loads = Loads(diary, changes, streams.Open("diary loads"));
        double meanLoad = loads.Average();
        RandomDraws values = streams.Open("diary values");
        RandomDraws losses = streams.Open("lost diary readings");
        double steps = values.NormalWithin(diary.StepsMean, diary.StepsPersonSd, 1500, 20_000);
        double pain = values.Normal(diary.PainMean, diary.PainPersonSd);
        bool weekMissing = false;
        for (int d = 0; d < days; d++)
        {
            if (d % WeekDays == 0)
                weekMissing = d > 0 && losses.Happens(diary.MissingWeekShare);
            double hours = values.Happens(diary.TakenOffShare) ? values.Between(1, 9) : values.NormalWithin(diary.WearHoursMean, diary.WearHoursSd, 4, 24);
            double counted = Math.Max(0, values.Normal(steps, diary.StepsDaySd)) * Math.Min(1, hours / WakingHours);
            double felt = values.Normal(pain + (diary.PainPer100LoadLastWeek * (LastWeek(loads, d) - meanLoad) / 100), diary.PainDaySd);
            if (losses.Happens(diary.MissingDayShare) || weekMissing)
                continue;
            yield return new DiaryDay(
                start + d, Kept(Math.Round(counted)), Kept(Math.Clamp(Math.Round(felt), 0, 10)), Kept(loads[d]),
                Kept(Math.Round(hours, 1)), changes[d]);
        }

        Reading Kept(double value) => Reading.OrLost(value, losses, scenario.Imperfections);
    }

    /// <summary>One change at a time, a fixed number of days apart; some are followed by another within days.</summary>
    private static string[] PlannedChanges(DiaryScenario diary, int days, RandomDraws draws)
    {
        string[] changes = new string[days];
        Array.Fill(changes, "none");
        int kind = (int)draws.Between(0, Changes.Length);
        for (int d = (int)diary.ChangeEveryDays; d < days; d += (int)diary.ChangeEveryDays)
        {
            changes[d] = Changes[kind++ % Changes.Length];
            int soon = d + (int)draws.Between(1, WeekDays);
            if (draws.Happens(diary.SeveralAtOnceShare) && soon < days)
                changes[soon] = Changes[kind++ % Changes.Length];
        }
        return changes;
    }

    private static double[] Loads(DiaryScenario diary, string[] changes, RandomDraws draws)
    {
        double[] loads = new double[changes.Length];
        double level = diary.LoadMean;
        double week = 1;
        for (int d = 0; d < loads.Length; d++)
        {
            if (d % WeekDays == 0)
                week = Math.Max(0.2, draws.Normal(1, diary.LoadWeekSd));
            if (changes[d] != "none")
                level *= 1 + diary.ChangeLoadShare;
            double training = Math.Max(20, level * week * draws.Between(0.7, 1.3));
            loads[d] = draws.Happens(diary.TrainingDayShare) ? Math.Round(training) : 0;
        }
        return loads;
    }

    /// <summary>Mean daily load of the week before the day's week; in the first week, of that week itself.</summary>
    private static double LastWeek(double[] loads, int day)
    {
        int week = Math.Max(0, (day / WeekDays) - 1);
        return loads.Skip(week * WeekDays).Take(WeekDays).Average();
    }
}
