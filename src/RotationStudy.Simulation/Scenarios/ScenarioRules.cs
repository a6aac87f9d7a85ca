using System.Collections;
using System.Reflection;
using YamlDotNet.Serialization.NamingConventions;

namespace RotationStudy.Simulation.Scenarios;

/// <summary>What a scenario's numbers may be, by the ending of their names, and the few rules across keys.</summary>
internal static class ScenarioRules
{
    private static readonly string[] ZeroToOne = ["Share", "Correlation", "AfterFirst", "AfterLater"];
    private static readonly string[] NotNegative = ["Sd", "SdDegrees", "SdYears", "SdCm", "SdMm", "PerYear", "Variance", "Factor", "Days"];

    /// <exception cref="ScenarioError">A value cannot be.</exception>
    internal static void Check(Scenario scenario, string file)
    {
        CheckRanges(scenario, file, "");
        Rule(scenario.Cohort.Participants is >= 1 and <= 10_000_000, "cohort.participants", "Give 1 to 10 million.");
        Rule(scenario.Cohort.YoungestYears < scenario.Cohort.OldestYears, "cohort.youngest_years", "Give an age below oldest_years.");
        Rule(scenario.Cohort.AgeMeanYears > scenario.Cohort.YoungestYears && scenario.Cohort.AgeMeanYears < scenario.Cohort.OldestYears,
            "cohort.age_mean_years", "Give a mean between youngest_years and oldest_years.");
        Rule(scenario.FollowUp.ShortestYears > 0 && scenario.FollowUp.ShortestYears <= scenario.FollowUp.LongestYears,
            "follow_up.shortest_years", "Give a follow-up above 0 and at most longest_years.");
        Rule(scenario.Sites.Count > 0 && Math.Abs(scenario.Sites.Sum(s => s.Share) - 1) < 1e-9, "sites", "Give shares that sum to 1.");
        Rule(scenario.Sites.All(s => s.Raters.Count >= 2), "sites", "Name two raters or more at every site.");
        Rule(scenario.Visits.Count > 0 && scenario.Visits[0].Day == 0, "visits", "Let the first visit be day 0.");
        Rule(scenario.Visits.Zip(scenario.Visits.Skip(1)).All(p => p.First.Day < p.Second.Day), "visits", "Give the visits in order of their days.");
        Rule(Math.Abs(scenario.Screening.Reasons.Sum(r => r.Share) - 1) < 1e-9, "screening.reasons", "Give shares that sum to 1.");
        Rule(scenario.Screening.NotEnrolledPerParticipant >= 0, "screening.not_enrolled_per_participant", "Give zero or more.");
        Rule(scenario.Diary.Weeks >= 1 && scenario.Diary.ChangeEveryDays >= 1, "diary", "Give at least one week, and changes a day apart or more.");
        Rule(scenario.Tracking.Trials >= 1 && scenario.Tracking.ScaleDegrees > 0, "tracking", "Give at least one trial and a scale above 0.");
        Rule(scenario.Imaging.InjuryImageMeanWaitDays > 0, "imaging.injury_image_mean_wait_days", "Give a wait above 0.");
        Rule(scenario.Events.FrailtyVariance >= 0, "events.frailty_variance", "Give 0 for none, or a variance above 0.");

        void Rule(bool holds, string key, string hint)
        {
            if (!holds)
                throw new ScenarioError($"{file} ({key})", "The value cannot be.", hint);
        }
    }

    /// <exception cref="ScenarioError">A value cannot be.</exception>
    internal static void Check(RaterStudyScenario scenario, string file)
    {
        CheckRanges(scenario, file, "");
        if (scenario.Participants is < 1 or > 1_000_000)
            throw new ScenarioError($"{file} (participants)", "The value cannot be.", "Give 1 to a million.");
        if (scenario.Raters.Count < 2 || scenario.Raters.Distinct().Count() != scenario.Raters.Count)
            throw new ScenarioError($"{file} (raters)", "The value cannot be.", "Name two raters or more, each once.");
        if (scenario.SessionGapDays < 1)
            throw new ScenarioError($"{file} (session_gap_days)", "The value cannot be.", "Give one day or more.");
    }

    /// <exception cref="ScenarioError">A value cannot be.</exception>
    internal static void Check(TrackingStudyScenario scenario, string file)
    {
        CheckRanges(scenario, file, "");
        if (scenario.Participants is < 1 or > 1_000_000)
            throw new ScenarioError($"{file} (participants)", "The value cannot be.", "Give 1 to a million.");
        if (scenario.Raters.Count < 2 || scenario.Raters.Distinct().Count() != scenario.Raters.Count)
            throw new ScenarioError($"{file} (raters)", "The value cannot be.", "Name two raters or more, each once.");
        if (scenario.Tracking.Trials < 1 || scenario.Tracking.ScaleDegrees <= 0)
            throw new ScenarioError($"{file} (tracking)", "The value cannot be.", "Give at least one trial and a scale above 0.");
    }

    private static void CheckRanges(object group, string file, string prefix)
    {
        foreach (PropertyInfo property in group.GetType().GetProperties())
        {
            object value = property.GetValue(group)!;
            string key = prefix + UnderscoredNamingConvention.Instance.Apply(property.Name);
            if (value is double number)
                CheckRange(property.Name, number, file, key);
            else if (value is IEnumerable items and not string)
                foreach (object item in items)
                    CheckNested(item, file, key + ".");
            else
                CheckNested(value, file, key + ".");
        }
    }

    private static void CheckNested(object value, string file, string prefix)
    {
        if (value.GetType().Namespace == typeof(Scenario).Namespace)
            CheckRanges(value, file, prefix);
    }

    private static void CheckRange(string name, double number, string file, string key)
    {
        if (ZeroToOne.Any(e => name.EndsWith(e, StringComparison.Ordinal)) && number is not (>= 0 and <= 1))
            throw new ScenarioError($"{file} ({key})", FormattableString.Invariant($"{number} is no share."), "Give a number from 0 to 1.");
        bool signed = name.StartsWith("Log", StringComparison.Ordinal) || name.StartsWith("Function", StringComparison.Ordinal);
        if (!signed && NotNegative.Any(e => name.EndsWith(e, StringComparison.Ordinal)) && number < 0)
            throw new ScenarioError($"{file} ({key})", FormattableString.Invariant($"{number} is below zero."), "Give zero or more.");
    }
}
