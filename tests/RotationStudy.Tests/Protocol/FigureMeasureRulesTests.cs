using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Protocol;

/// <summary>Slips in the figures that draw measures, and in the subgroups of a question.</summary>
public sealed class FigureMeasureRulesTests
{
    [Theory]
    [InlineData("measures: [anteversion, tibial_torsion]", "measures: [anteversion]", "Figure 'torsion-of-both-knees' draws exactly two measures.", "Name the measures.")]
    [InlineData("measures: [anteversion, tibial_torsion]", "measures: [anteversion, laxity_nine]", "'laxity_nine' cannot be drawn by this kind of figure.", "Name a measure of numbers with one value per side.")]
    [InlineData("measures: [anteversion, tibial_torsion]", "measures: [anteversion, tibial_torsoin]", "No measure is called 'tibial_torsoin'.", "Did you mean 'tibial_torsion'?")]
    [InlineData("measures: [hip_internal_rotation]", "measures: [hip_rotation_arc]", "'hip_rotation_arc' cannot be drawn by this kind of figure.", "Name a measure of kind value that reads a column of numbers.")]
    [InlineData("measures: [weekly_pain, weekly_load]", "measures: [anteversion]", "'anteversion' cannot be drawn by this kind of figure.", "Name a measure of the weeks of a diary.")]
    [InlineData("weeks_to_sport]", "anteversion]", "'anteversion' cannot be drawn by this kind of figure.", "Name a measure of kind time_after.")]
    [InlineData(", by: site", "", "A figure of kind scatter_panels needs a measure that makes its panels.", "Name a measure of codes, such as site or sex.")]
    [InlineData(", by: site", ", by: age_years", "'age_years' makes no groups.", "Name a measure of codes, of kind groups, or of kind any_event.")]
    [InlineData("marks: ever_dislocated", "marks: age_years", "'age_years' does not say which rows are marked.", "Name a measure of kind any_event, or one of codes.")]
    [InlineData("kind: missing_map", "kind: missing_map, measures: [sex]", "This kind of figure draws no measures of its own.", "Remove 'measures'.")]
    [InlineData("kind: missing_map", "kind: missing_map, questions: [Q1]", "This kind of figure draws no question.", "Remove 'questions'.")]
    [InlineData("kind: missing_map", "kind: growth_lines, questions: [Q1]", "Question Q1 yields nothing that this kind of figure shows.", "Name a question of kind trajectory.")]
    [InlineData("kind: missing_map", "kind: subgroup_forest, questions: [Q4]", "Question Q4 names no subgroups.", "Add 'subgroups' to it in plan.yaml.")]
    public void A_slip_in_a_figure_is_found_with_a_hint(string old, string with, string what, string hint)
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("figures.yaml", old, with);
        ProtocolFault fault = Assert.Single(protocol.Faults(), f => f.What == what);
        Assert.StartsWith(hint, fault.Hint, StringComparison.Ordinal);
        Assert.Equal("figures.yaml", fault.Place.File);
    }

    [Theory]
    [InlineData("subgroups: [sex, sex]", "The subgroup 'sex' is declared twice.")]
    [InlineData("subgroups: [age_years]", "'age_years' makes no groups.")]
    [InlineData("subgroups: [sexx]", "No measure is called 'sexx'.")]
    public void A_slip_in_the_subgroups_is_found(string subgroups, string what)
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("plan.yaml", "    family: instability\n", $"    {subgroups}\n    family: instability\n");
        Assert.Single(protocol.Faults(), f => f.What == what);
    }
}
