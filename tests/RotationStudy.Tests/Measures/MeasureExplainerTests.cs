using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Measures;

/// <summary>Every measure of a shipped protocol can be explained.</summary>
public class MeasureExplainerTests
{
    private static readonly StudyProtocol Shipped = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability"));

    [Fact]
    public void Every_measure_says_what_it_is_how_the_protocol_has_it_its_source_and_who_uses_it()
        => Assert.All(Shipped.Measures, measure =>
        {
            ImmutableArray<ExplainedPoint> points = MeasureExplainer.Explain(Shipped, measure);
            foreach (string heading in new[] { "Definition", "As this protocol has it", "One value per", "Unit", "Source", "Used by" })
                Assert.Contains(points, p => p.Heading == heading && p.Text.Length > 0);
        });

    [Fact]
    public void A_norm_is_printed_with_its_rows_its_evidence_and_its_cautions()
    {
        ImmutableArray<ExplainedPoint> points = MeasureExplainer.Explain(Shipped, Shipped.Measure("hip_internal_rotation"));
        Assert.Contains(points, p => p.Heading == "Norm by age" && p.Text.Contains("mean 45, 15 to 65 degrees", StringComparison.Ordinal));
        Assert.Contains(points, p => p.Heading == "Caution on the norm" && p.Text.Contains("contradicts itself", StringComparison.Ordinal));
        Assert.Contains(points, p => p.Heading == "Sign");
    }

    [Fact]
    public void Questions_and_measures_that_use_it_are_named()
    {
        string uses = MeasureExplainer.Explain(Shipped, Shipped.Measure("anteversion")).Single(p => p.Heading == "Used by").Text;
        Assert.Contains("(exposure)", uses, StringComparison.Ordinal);
        Assert.Contains("torsion_sum", uses, StringComparison.Ordinal);
    }

    [Fact]
    public void Greater_or_at_least_is_printed_as_chosen()
    {
        string has = MeasureExplainer.Explain(Shipped, Shipped.Measure("laxity_nine")).Single(p => p.Heading == "As this protocol has it").Text;
        Assert.Contains("at least 90 degrees", has, StringComparison.Ordinal);
        Assert.Contains("more than 10 degrees", has, StringComparison.Ordinal);
    }

    [Fact]
    public void A_slip_is_answered_with_the_nearest_id()
        => Assert.Equal("Did you mean 'anteversion'?", MeasureExplainer.HintFor(Shipped, "anteversoin"));
}
