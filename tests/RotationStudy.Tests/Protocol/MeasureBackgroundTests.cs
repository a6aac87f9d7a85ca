using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Protocol;

/// <summary>What a protocol may not say about methods, norms, scores and grades; each refusal points at its word.</summary>
public class MeasureBackgroundTests
{
    [Theory]
    [InlineData("    sign: Outward positive, inward negative.\n", "", "Measure 'thigh_foot_angle' may be negative, but does not say which direction is positive.")]
    [InlineData("    method_column: modality\n    method: mri\n    reduction: first\n", "    reduction: first\n", "Measure 'tubercle_distance' would pool values of different methods: 'tubercle_distance_mm' depends on 'modality'.")]
    [InlineData("    norm: kaiser-2016-anteversion-murphy\n    source: >-", "    norm: kaiser-2016-anteversion-jarrett\n    source: >-", "The norm 'kaiser-2016-anteversion-jarrett' holds for method 'jarrett', but the values are of method 'murphy'.")]
    [InlineData("    norm: staheli-1985-thigh-foot-angle\n    source", "    norm: staheli-1985-thigh-foot\n    source", "No norm is called 'staheli-1985-thigh-foot'.")]
    [InlineData("    first: anteversion\n    second: tibial_torsion\n  - id: torsion_pattern", "    first: anteversion\n    second: anteversion_jarrett\n  - id: torsion_pattern", "'anteversion' and 'anteversion_jarrett' are of different methods ('murphy' and 'jarrett').")]
    [InlineData("    kind: score_bound\n    of: laxity_nine\n    end: lowest\n", "    kind: sum\n    first: laxity_nine\n    second: laxity_seven\n    end: lowest\n", "'laxity_nine' and 'laxity_seven' are scores of different definitions.")]
    [InlineData("    apart: [unable]\n", "", "The code 'unable' belongs to no grade.")]
    [InlineData("{ label: low grade, codes: [a] }", "{ label: low grade, codes: [a, b] }", "The code 'b' belongs to two grades.")]
    [InlineData("      - { age_from: 18, age_to: 51, at_least: 5 }", "      - { age_from: 17, age_to: 51, at_least: 5 }", "The ages of the rows must not overlap or end before they begin.")]
    [InlineData("      - { age_from: 0, age_to: 120, at_least: 5 }", "      - { age_from: 0, age_to: 120, at_least: 10 }", "The score runs from 0 to 9, so the cut-off says nothing.")]
    [InlineData("    threshold: 2\n    more_by: 1", "    threshold: 2\n    more_by: 0", "A difference that counts is above 0.")]
    [InlineData("    least_days: 180\n    hip_gate: true", "    least_days: 0\n    hip_gate: true", "Readings of one day show no change over time.")]
    [InlineData("    kind: norm_difference\n", "    kind: z_score\n", "The norm 'svenningsen-1989-anteversion-change' has a range of values seen, from which no z score can be made.")]
    [InlineData("        evidence: read_in_copy\n", "        evidence: read_in_print\n", "'read_in_print' is no valid 'evidence'.")]
    public void A_slip_in_the_measures_is_refused(string old, string with, string what)
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("measures.yaml", old, with);
        Assert.Contains(what, protocol.Faults().Select(f => f.What));
    }

    [Theory]
    [InlineData("two_sd: 15.9", "two_sd: 15.9, sd: 8", "A row of a norm has one spread, but 2 are given.")]
    [InlineData("age_from: 18, age_to: 90", "age_from: 90, age_to: 18", "The ages of the row end before they begin.")]
    [InlineData("id: strecker-1997-tibial-torsion", "id: strecker-1997-tibia", "The norm 'strecker-1997-tibia' stands in the file 'norms/strecker-1997-tibial-torsion.yaml'.")]
    [InlineData("unit: degrees", "unit: grades", "Unknown unit 'grades'.")]
    [InlineData("evidence: read_in_copy", "evidnce: read_in_copy", "The key 'evidence' is missing in 'rows' of norms/strecker-1997-tibial-torsion.yaml.")]
    public void A_slip_in_a_norm_is_refused(string old, string with, string what)
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("norms/strecker-1997-tibial-torsion.yaml", old, with);
        Assert.Contains(what, protocol.Faults().Select(f => f.What));
    }

    [Fact]
    public void A_relation_between_methods_that_was_only_recalled_converts_nothing()
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("measures.yaml", "  - id: tibial_torsion\n", Converted("recalled", "jarrett", "5"));
        Assert.Contains("A relation that is recalled, not re-read converts nothing: published offsets between methods disagree by several degrees.", protocol.Faults().Select(f => f.What));
    }

    [Fact]
    public void A_relation_for_another_method_or_without_error_is_refused()
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("measures.yaml", "  - id: tibial_torsion\n", Converted("read_in_copy", "lee", "0"));
        string[] faults = [.. protocol.Faults().Select(f => f.What)];
        Assert.Contains("The relation converts method 'lee', but 'anteversion_jarrett' keeps method 'jarrett'.", faults);
        Assert.Contains("A conversion has an error of its own, so its standard deviation is above 0.", faults);
    }

    [Fact]
    public void A_printed_reason_lets_methods_be_pooled()
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace(
            "measures.yaml", "    method_column: modality\n    method: ct\n    reduction: first\n", "    reduction: first\n    pools_methods_because: A sensitivity analysis of the invented study.\n");
        Assert.NotNull(ProtocolReader.Read(protocol.Folder).Measure("tubercle_distance_ct").Background.PoolsMethodsBecause);
    }

    private static string Converted(string evidence, string from, string deviation) => $$"""
          - id: anteversion_converted
            label: Converted
            unit: degrees
            source: Invented for a test.
            kind: converted
            of: anteversion_jarrett
            relation: { from_method: {{from}}, to_method: murphy, intercept: 2.6, slope: 1, residual_sd: {{deviation}}, source: invented, evidence: {{evidence}} }
          - id: tibial_torsion

        """;
}
