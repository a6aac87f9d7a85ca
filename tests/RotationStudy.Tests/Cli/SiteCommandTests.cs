using System.Text.Json;
using System.Text.Json.Nodes;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Cli;

/// <summary>Three folders play three sites that share no rows; the answer is that of the rows together. The data are invented.</summary>
public sealed class SiteCommandTests : Workspace
{
    private static readonly string[] Sites = ["A", "B", "C"];

    [Fact]
    public void Three_sites_that_share_no_rows_reach_the_answer_of_the_rows_together()
    {
        const string question = "Q2";
        SplitDemo();
        (SharedRow[] found, int rounds) = Play(question);
        Assert.Equal(2, rounds);
        QuestionResult whole = Whole(question);
        foreach (EstimateRow row in whole.Estimates)
        {
            SharedRow same = found.Single(f => f.Term == row.Term);
            Same(row.Value, same.Value);
            Same(row.Lower, same.Lower);
            Same(row.Upper, same.Upper);
            Same(row.PValue, same.PValue);
        }
    }

    [Fact]
    public void A_share_holds_no_identifier()
    {
        SplitDemo();
        Assert.Equal(0, Share("A", "Q2", null).ExitCode);
        string text = File.ReadAllText(At("A.json"));
        Assert.All(File.ReadAllLines(At("A", "participants.csv")).Skip(1).Select(l => l.Split(',')[0]), id => Assert.DoesNotContain(id, text, StringComparison.Ordinal));
    }

    [Fact]
    public void A_site_refuses_sums_in_which_few_persons_stand_alone()
    {
        SplitDemo();
        string file = At("A", "participants.csv");
        string[] lines = File.ReadAllLines(file);
        int sex = Array.IndexOf(lines[0].Split(','), "sex");
        int females = 0;
        File.WriteAllLines(file, lines.Select((line, i) =>
        {
            string[] cells = line.Split(',');
            if (i > 0)
                cells[sex] = cells[sex] == "F" && females++ < 3 ? "F" : "M";
            return string.Join(',', cells);
        }));
        CommandLineRun run = Share("A", "Q2", null);
        Assert.Equal(9, run.ExitCode);
        Assert.Contains("fewer than 5 persons stand alone in the sums (sex: F yes)", run.Error);
        Assert.False(File.Exists(At("A.json")));
    }

    [Fact]
    public void Files_that_do_not_belong_together_are_refused()
    {
        SplitDemo();
        foreach (string site in Sites)
            Assert.Equal(0, Share(site, "Q2", null).ExitCode);
        CommandLineRun twice = Gather(null, "A.json", "A.json");
        Assert.Equal(9, twice.ExitCode);
        Assert.Contains("both of site A", twice.Error);
        Assert.Equal(0, Gather(null, "A.json", "B.json", "C.json").ExitCode);
        CommandLineRun old = Gather(At("request.json"), "A.json", "B.json", "C.json");
        Assert.Contains("answers another request", old.Error);
        CommandLineRun cox = Share("A", "Q6", null);
        Assert.Contains("cannot be answered from sums of sites", cox.Error);
    }

    [Fact]
    public void A_site_whose_rows_changed_between_rounds_is_refused_and_so_is_one_that_stays_away()
    {
        SplitDemo();
        foreach (string site in Sites)
            Share(site, "Q2", null);
        Assert.Equal(0, Gather(null, "A.json", "B.json", "C.json").ExitCode);
        string gone = File.ReadAllLines(At("A", "participants.csv"))[1].Split(',')[0];
        foreach (string file in Directory.EnumerateFiles(At("A"), "*.csv"))
            File.WriteAllLines(file, File.ReadAllLines(file).Where(l => !l.StartsWith(gone + ",", StringComparison.Ordinal)));
        foreach (string site in Sites)
            Assert.Equal(0, Share(site, "Q2", At("request.json")).ExitCode);
        CommandLineRun changed = Gather(At("request.json"), "A.json", "B.json", "C.json");
        Assert.Contains("rests on other rows than in the first round", changed.Error);
        CommandLineRun away = Gather(At("request.json"), "B.json", "C.json");
        Assert.Contains("The file of site A is missing", away.Error);
    }

    [Fact]
    public void A_file_that_is_no_share_is_named_with_its_fault()
    {
        File.WriteAllText(At("A.json"), "{ \"format\": \"other\" }");
        CommandLineRun run = Gather(null, "A.json");
        Assert.Equal(9, run.ExitCode);
        Assert.Contains("A.json is not a site's share", run.Error);
        Assert.DoesNotContain("   at ", run.Error);
    }

    private (SharedRow[] Rows, int Rounds) Play(string question)
    {
        string? request = null;
        for (int round = 1; ; round++)
        {
            foreach (string site in Sites)
            {
                CommandLineRun share = Share(site, question, request);
                Assert.True(share.ExitCode == 0, share.Error);
            }
            CommandLineRun gathered = Gather(request, "A.json", "B.json", "C.json");
            Assert.True(gathered.ExitCode == 0, gathered.Error);
            JsonNode said = JsonNode.Parse(gathered.Output)!;
            request = At("request.json");
            if ((string?)said["asks_for"] == "nothing")
                return (said["estimates"].Deserialize<SharedRow[]>(Options)!, round);
        }
    }

    private static readonly JsonSerializerOptions Options = new() { PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower };

    private CommandLineRun Share(string site, string question, string? request)
        => CommandLineRun.Of(["site", "share", Protocol, At(site), "--question", question, "--to", At(site + ".json"), .. request is null ? Array.Empty<string>() : ["--answers", request]]);

    private CommandLineRun Gather(string? request, params string[] shares)
        => CommandLineRun.Of(["site", "gather", Protocol, .. shares.Select(s => At(s)), "--to", At("request.json"), "--json", .. request is null ? Array.Empty<string>() : ["--after", request]]);

    private static QuestionResult Whole(string question)
    {
        StudyProtocol protocol = ProtocolReader.Read(Protocol);
        DerivedMeasures measures = MeasureDeriver.Derive(
            protocol, RecordChecker.Check(protocol, ExportReader.Read(Path.Combine(Repository.Root, "synthetic-data", "demo"), protocol)));
        return AnalysisRunner.Answer(protocol, measures, protocol.Plan.Questions.Single(q => q.Id == question));
    }

    /// <summary>The rows of a participant go to the folder of the site that the identifier begins with; a file without identifiers goes to all.</summary>
    private void SplitDemo()
    {
        CopyExport();
        foreach (string site in Sites)
        {
            Directory.CreateDirectory(At(site));
            foreach (string file in Directory.EnumerateFiles(At("exports"), "*.csv"))
            {
                string[] lines = File.ReadAllLines(file);
                bool keyed = lines[0].StartsWith("participant_id,", StringComparison.Ordinal);
                File.WriteAllLines(At(site, Path.GetFileName(file)), lines.Where((l, i) => i == 0 || !keyed || l.StartsWith(site + "-", StringComparison.Ordinal)));
            }
        }
    }

    private static void Same(double expected, double found)
        => Assert.True(Math.Abs(found - expected) <= 1e-8 * Math.Abs(expected), FormattableString.Invariant($"expected {expected:R}, found {found:R}"));

    private sealed record SharedRow(string Term, double Value, double Lower, double Upper, double PValue);
}
