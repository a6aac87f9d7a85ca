using RotationStudy.Simulation;
using RotationStudy.Simulation.Exports;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Sharing;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Sharing;

/// <summary>Three folders play three sites in as many rounds as it takes; every file goes through its bytes. The data are invented.</summary>
public sealed class SiteSharingTests : Workspace
{
    private const string Hash = "hash of the protocol";
    private static readonly string[] Sites = ["A", "B", "C"];

    [Fact]
    public void Odds_and_rates_of_three_folders_are_those_of_the_rows_together()
    {
        StudyProtocol protocol = ProtocolReader.Read(Protocol);
        Scenario scenario = DemoScenario.Read();
        CohortFolder.Write(new SimulatedCohort(scenario with { Cohort = scenario.Cohort with { Participants = 500 } }, 21), At("all"));
        DerivedMeasures[] sites = [.. Sites.Select(s => Read(protocol, Part(s)))];
        DerivedMeasures all = Read(protocol, At("all"));
        foreach (string id in new[] { "Q4", "Q5" })
        {
            (SharedAnswer found, int rounds) = Play(protocol, sites, id);
            Assert.True(found.AsPlanned);
            Assert.InRange(rounds, 4, 12);
            QuestionResult whole = AnalysisRunner.Answer(protocol, all, protocol.Plan.Questions.Single(q => q.Id == id));
            // A rate stands beside its negative binomial answer as Poisson regression; sums of sites give the latter.
            foreach (EstimateRow row in id == "Q5" ? whole.Beside : whole.Estimates)
            {
                EstimateRow same = found.Estimates.Single(e => e.Term == row.Term);
                Same(row.ModelValue, same.ModelValue);
                Same(row.ModelStandardError!.Value, same.ModelStandardError!.Value);
                Same(row.DegreesOfFreedom!.Value, same.DegreesOfFreedom!.Value);
                Same(row.Lower, same.Lower);
                Same(row.PValue, same.PValue);
                Assert.Equal(row.Label, same.Label);
            }
        }
    }

    private static (SharedAnswer Answer, int Rounds) Play(StudyProtocol protocol, DerivedMeasures[] sites, string question)
    {
        byte[]? request = null;
        for (int round = 1; ; round++)
        {
            SiteRequest? asked = request is null ? null : SharingJson.ReadRequest(request, "request");
            string? hash = request is null ? null : SharingJson.Hash(request);
            (string, SiteShare)[] shares = [.. sites.Select((measures, i) => (Sites[i], SharingJson.ReadShare(
                SharingJson.Write(SiteSharing.Share(protocol, Hash, measures, question, null, asked, hash, "test")), Sites[i])))];
            SiteRequest next = SiteGathering.Gather(protocol, Hash, shares, asked, hash, "test");
            if (next.Step == SharingStep.Done)
                return (next.Answer!, round);
            request = SharingJson.Write(next);
        }
    }

    private static DerivedMeasures Read(StudyProtocol protocol, string folder)
        => MeasureDeriver.Derive(protocol, RecordChecker.Check(protocol, ExportReader.Read(folder, protocol)));

    /// <summary>A folder with the rows of the participants whose identifier begins with the site's code.</summary>
    private string Part(string site)
    {
        Directory.CreateDirectory(At(site));
        foreach (string file in Directory.EnumerateFiles(At("all"), "*.csv"))
        {
            string[] lines = File.ReadAllLines(file);
            bool keyed = lines[0].StartsWith("participant_id,", StringComparison.Ordinal);
            File.WriteAllLines(At(site, Path.GetFileName(file)), lines.Where((l, i) => i == 0 || !keyed || l.StartsWith(site + "-", StringComparison.Ordinal)));
        }
        return At(site);
    }

    private static void Same(double expected, double found)
        => Assert.True(Math.Abs(found - expected) <= 1e-8 * Math.Abs(expected), FormattableString.Invariant($"expected {expected:R}, found {found:R}"));
}
