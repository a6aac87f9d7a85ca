using RotationStudy.Simulation.Scenarios;

namespace RotationStudy.Tests.Simulation;

public class ScenarioReaderTests
{
    private static readonly string Text = DemoScenario.Text();

    [Fact]
    public void The_demo_scenario_is_read_as_it_stands()
    {
        Scenario scenario = DemoScenario.Read();
        Assert.Equal(300, scenario.Cohort.Participants);
        Assert.Equal(["A", "B", "C"], scenario.Sites.Select(s => s.Site));
        Assert.Equal(0.3, scenario.Events.LogPer10Anteversion);
    }

    [Fact]
    public void Every_number_of_the_demo_scenario_says_where_it_comes_from()
    {
        string[] silent = [.. Text.Split('\n').Where(l => l.TrimEnd().Length > 0 && l.Split('#')[0].Any(char.IsAsciiDigit) && !l.Contains('#'))];
        Assert.Empty(silent);
    }

    [Theory]
    [InlineData("female_share: 0.56", "femal_share: 0.56", "femal_share")]
    [InlineData("  age_sd_years: 2.4 ", "  #", "age_sd_years")]
    [InlineData("participants: 300", "participants: 0300", "'0300' is not a whole number")]
    [InlineData("participants: 300", "participants: many", "'many' is not a whole number")]
    [InlineData("female_share: 0.56", "female_share: 0,56", "'0,56' is not a number with a decimal point")]
    [InlineData("age_mean_years: 15", "age_mean_years: .inf", "'.inf' is not a number")]
    [InlineData("age_mean_years: 15", "female_share: 0.5", "Duplicate key")]
    public void A_key_or_number_that_cannot_be_is_refused_with_its_place(string old, string changed, string message)
    {
        ScenarioError error = Assert.Throws<ScenarioError>(() => ScenarioReader.Parse(Replaced(old, changed), "mine.yaml"));
        Assert.Matches(@"^mine\.yaml:\d+:\d+$", error.Where);
        Assert.Contains(message, error.What, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("female_share: 0.56", "female_share: 1.2", "cohort.female_share", "1.2 is no share")]
    [InlineData("frailty_variance: 0.5", "frailty_variance: -0.5", "events.frailty_variance", "below zero")]
    [InlineData("share: 0.45", "share: 0.55", "sites", "sum to 1")]
    [InlineData("youngest_years: 10", "youngest_years: 30", "cohort.youngest_years", "below oldest_years")]
    [InlineData("visit_day_sd: 14", "visit_day_sd: -1", "follow_up.visit_day_sd", "below zero")]
    [InlineData("month_12, day: 365", "month_12, day: 100", "visits", "order of their days")]
    public void A_value_that_cannot_be_true_is_refused_with_its_key(string old, string changed, string key, string message)
    {
        ScenarioError error = Assert.Throws<ScenarioError>(() => ScenarioReader.Parse(Replaced(old, changed), "mine.yaml"));
        Assert.Equal($"mine.yaml ({key})", error.Where);
        Assert.Contains(message, error.Message);
    }

    [Fact]
    public void An_empty_file_is_refused()
        => Assert.Contains("empty", Assert.Throws<ScenarioError>(() => ScenarioReader.Parse("", "mine.yaml")).Message);

    private static string Replaced(string old, string changed)
    {
        Assert.Contains(old, Text);
        return Text.Replace(old, changed, StringComparison.Ordinal);
    }
}
