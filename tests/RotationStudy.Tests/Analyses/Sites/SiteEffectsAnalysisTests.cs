using RotationStudy.Statistics.Pooling;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Analyses.Sites;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Analyses.Sites;

/// <summary>Effects by site of the demo study equal bare fits on the sites' rows and their bare summary. The data are invented.</summary>
public sealed class SiteEffectsAnalysisTests
{
    private static readonly StudyProtocol Protocol = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability"));
    private static readonly DerivedMeasures Measures = MeasureDeriver.Derive(
        Protocol, RecordChecker.Check(Protocol, ExportReader.Read(Path.Combine(Repository.Root, "synthetic-data", "demo"), Protocol)));

    private static readonly SiteEffects[] Found = [.. SiteEffectsAnalysis.Build(Protocol, Measures)];

    [Fact]
    public void Each_site_and_all_others_are_the_planned_model_on_their_rows()
    {
        SiteEffects effect = Found.First(e => e.Question == "Q2");
        QuestionDefinition question = Protocol.Plan.Questions.First(q => q.Id == "Q2");
        for (int s = 0; s < 3; s++)
        {
            string code = Measures["site"].Codes[s].Code;
            string[] others = [.. Measures["site"].Codes.Select(c => c.Code).Where(c => c != code)];
            Assert.Equal(Slope(question with { Keep = new RowFilter("site", [code]) }), effect.Sites[s].Estimate!.ModelValue, 1e-12);
            Assert.Equal(Slope(question with { Keep = new RowFilter("site", [.. others]) }), effect.Without[s].Estimate!.ModelValue, 1e-12);
        }
    }

    [Fact]
    public void The_summary_is_that_of_the_sites_estimates()
    {
        SiteEffects effect = Found.First(e => e.Question == "Q5");
        RandomEffectsFit fit = RandomEffects.Pool(
            [.. effect.Sites.Select(s => s.Estimate!.ModelValue)], [.. effect.Sites.Select(s => s.Estimate!.ModelStandardError!.Value)]);
        Assert.Equal(Math.Exp(fit.Mean.Value), effect.Pooled[0].Mean, 1e-12);
        Assert.Equal(fit.BetweenVariance, effect.Pooled[0].BetweenVariance, 1e-12);
        Assert.Equal(1, effect.Sites.Sum(s => s.Share!.Value), 1e-12);
    }

    [Fact]
    public void Every_question_of_sites_yaml_has_a_result_per_exposure()
        => Assert.Equal(["Q2", "Q2", "Q4", "Q4", "Q5", "Q5"], Found.Select(e => e.Question));

    [Fact]
    public void A_site_that_cannot_be_fitted_says_why_and_the_others_are_pooled()
    {
        // Site A is left with one person.
        MeasureColumn site = Measures["site"];
        int kept = 0;
        MeasureColumn few = site with { Missing = [.. site.Missing.Select((m, i) => m == 0 && site.Values[i] == 0 && kept++ > 0 ? (byte)1 : m)], Reasons = ["taken out"] };
        SiteEffects effect = SiteEffectsAnalysis.Build(Protocol, Measures with { Columns = Measures.Columns.Replace(site, few) }).First(e => e.Question == "Q2");
        Assert.NotNull(effect.Sites[0].NotFitted);
        Assert.Equal(1, effect.Pooled[0].QDegreesOfFreedom);
        Assert.Contains(effect.Notes, n => n.Contains("is not in the summary", StringComparison.Ordinal));
    }

    private static double Slope(QuestionDefinition question)
    {
        AnalysisInput input = AnalysisInput.Prepare(Protocol, Measures, question);
        return LinearRegression.Fit(input.DesignWithIntercept(), input.Values("laxity_nine")).ModelBased.Estimate("anteversion").Value;
    }
}
