using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Audit;

/// <summary>A plan is sealed once; what is changed afterwards is listed, and a seal that was changed is refused.</summary>
public sealed class SealTests : IDisposable
{
    private readonly DirectoryInfo _temp = Directory.CreateTempSubdirectory("rotationstudy-");

    public SealTests()
    {
        foreach (string file in Directory.EnumerateFiles(GrowthRun.Protocol, "*.yaml"))
            File.Copy(file, At(Path.GetFileName(file)));
        Assert.Equal(0, CommandLineRun.Of("seal", _temp.FullName, "--dated", "2026-01-31").ExitCode);
    }

    public void Dispose() => _temp.Delete(recursive: true);

    [Fact]
    public void An_unchanged_plan_has_no_deviations_nor_has_one_with_other_comments_and_order_of_keys()
    {
        Assert.Empty(Seal().Deviations);
        Assert.Equal("2026-01-31", Seal().Dated);
        Change("plan.yaml", "    kind: mean\n    rows: visit\n", "    rows: visit   # a row for each visit\n    kind: mean\n");
        Assert.Empty(Seal().Deviations);
    }

    [Fact]
    public void Every_changed_word_is_listed_with_its_place_and_both_versions()
    {
        Change("plan.yaml", "{ measure: age }\n      - { measure: sex, reference: Female }\n    interactions:\n      - { first: age, second: sex }\n    family: growth\n\n", "{ measure: age, per: 2 }\n      - { measure: sex, reference: Male }\n    family: growth\n\n");
        Assert.Equal(
            [
                new PlanDeviation("plan.yaml", "questions / Q1 / exposures / age / per", null, "2"),
                new PlanDeviation("plan.yaml", "questions / Q1 / exposures / sex / reference", "Female", "Male"),
                new PlanDeviation("plan.yaml", "questions / Q1 / interactions", "[first: age; second: sex]", null),
            ],
            Seal().Deviations.OrderBy(d => d.Where, StringComparer.Ordinal));
    }

    [Fact]
    public void The_report_lists_the_deviations_and_says_so_in_front()
    {
        Change("plan.yaml", "title: Growth, a line for each child", "title: A line for each child");
        string run = At("run");
        Assert.Equal(0, CommandLineRun.Of("study", _temp.FullName, GrowthRun.Exports, "--to", run, "--quiet").ExitCode);
        string report = File.ReadAllText(Path.Combine(run, "report.html"));
        Assert.Contains("this run departs from it in 1 place", report, StringComparison.Ordinal);
        Assert.Contains("questions / Q2 / title", report, StringComparison.Ordinal);
        Assert.Contains("\"plan_seal\"", File.ReadAllText(Path.Combine(run, "chain.jsonl")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_seal_that_was_changed_or_is_none_is_a_fault_of_the_protocol()
    {
        Change("seal.json", "2026-01-31", "2025-01-31");
        CommandLineRun refused = CommandLineRun.Of("protocol", _temp.FullName);
        Assert.Equal(2, refused.ExitCode);
        Assert.Contains("seal.json:1:1: The seal was changed after it was made", refused.Error, StringComparison.Ordinal);
        File.WriteAllText(At("seal.json"), "{}");
        Assert.Contains("The file is no seal of a plan.", CommandLineRun.Of("protocol", _temp.FullName).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_is_sealed_once_and_under_a_real_date()
    {
        CommandLineRun again = CommandLineRun.Of("seal", _temp.FullName, "--dated", "2026-02-01");
        Assert.Equal(4, again.ExitCode);
        Assert.Contains("was sealed on 2026-01-31", again.Error, StringComparison.Ordinal);
        Assert.Equal(1, CommandLineRun.Of("seal", _temp.FullName, "--dated", "31.1.2026").ExitCode);
    }

    private PlanSealFacts Seal() => ProtocolReader.Read(_temp.FullName).Seal!;

    private void Change(string file, string from, string to)
    {
        string text = File.ReadAllText(At(file));
        Assert.Contains(from, text, StringComparison.Ordinal);
        int at = text.IndexOf(from, StringComparison.Ordinal);
        File.WriteAllText(At(file), text[..at] + to + text[(at + from.Length)..]);
    }

    private string At(string name) => Path.Combine(_temp.FullName, name);
}
