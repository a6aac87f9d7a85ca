using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Guard;

/// <summary>Four invented participants: two of site A (F 14.2, M 16), one of B (F 13.5), one of C (M 19.9).</summary>
public sealed class RareCombinationTests
{
    [Fact]
    public void A_combination_that_too_few_share_stops_the_export_and_is_not_told()
    {
        Finding finding = Assert.Single(Check(2, new QuasiIdentifier("site", 0)).Findings);
        Assert.Equal(("identity.rare", Severity.Stop, 4), (finding.Rule, finding.Severity, finding.Line));
        Assert.Equal(
            "Fewer than 2 participants share a combination of site in lines 4, 5 of participants.csv, so they could be recognised. "
                + "Send coarser groups, or widen those of deidentification.yaml.",
            finding.Message);
    }

    [Fact]
    public void Numbers_are_grouped_before_they_are_counted()
    {
        Assert.Empty(Check(4, new QuasiIdentifier("age_years", 10)).Findings);
        Assert.Contains("in lines 2, 3, 4, 5 of participants.csv", Assert.Single(Check(4, new QuasiIdentifier("age_years", 5)).Findings).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Groups_that_are_large_enough_pass() => Assert.Empty(Check(2, new QuasiIdentifier("sex", 0)).Findings);

    private static CheckedRecords Check(int smallest, params QuasiIdentifier[] columns)
    {
        using TestExport export = TestExport.Clean();
        return RecordChecker.Check(TestExport.Protocol with { Deidentification = new Deidentification(smallest, [.. columns]) }, export.Read());
    }
}
