using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Protocol;

/// <summary>Each kind of slip in curves, their summaries and the errors of terms is found at its place, with a useful hint.</summary>
public sealed class CurveRulesTests
{
    [Theory]
    [InlineData("plan.yaml", "column: lateral_shift_mm, over: flexion_deg", "column: lateral_shit_mm, over: flexion_deg", "lateral_shit_mm", "Table 'tracking' has no column 'lateral_shit_mm'.", "Did you mean 'lateral_shift_mm'?")]
    [InlineData("plan.yaml", "over: flexion_deg, trial: trial }", "over: flexion_deg }", "tracking, column: lateral", "A row of 'tracking' is also one of 'trial', so curves of several would be mixed.", "Write trial: trial")]
    [InlineData("plan.yaml", "over: flexion_deg, trial: trial }", "over: side, trial: trial }", "side, trial: trial }", "Column 'side' holds no numbers. The arc of a curve is made of numbers.", "Name a column of numbers.")]
    [InlineData("plan.yaml", "    group_by: instability\n    summaries: [shift", "    group_by: site\n    summaries: [shift", "site\n    summaries", "'site' makes 3 groups; curves are compared between two.", "Name a measure of two codes")]
    [InlineData("plan.yaml", "    group_by: instability\n    summaries: [tilt", "    summaries: [tilt", "[tilt_at", "Summaries are compared between groups, and there are none.", "Write 'group_by'")]
    [InlineData("plan.yaml", "[shift_at_extension, shift_mean", "[shift_at_extension, sex", "sex, shift_largest", "'sex' holds no numbers.", "Name a measure of kind curve_summary.")]
    [InlineData("plan.yaml", "from: T4", "from: T3", "T3\n        scope", "No question of kind agreement is called 'T3'.", "")]
    [InlineData("plan.yaml", "measure: anteversion\n        from", "measure: instability\n        from", "instability\n        from", "'instability' holds codes; regression calibration is for numbers.", "Leave it out")]
    [InlineData("plan.yaml", "measure: anteversion\n        from", "measure: age_years\n        from", "age_years\n        from", "'age_years' is no term of T5.", "Use")]
    [InlineData("plan.yaml", "from: T4\n", "error_sd: 5\n", "5\n        scope", "How surely the error is known is not said.", "Write 'degrees_of_freedom'")]
    [InlineData("plan.yaml", "from: T4\n", "from: T4\n        error_sd: 5\n", "anteversion\n        from", "The error of 'anteversion' needs one origin.", "Give 'from'")]
    [InlineData("plan.yaml", "from: T4\n", "from: T4\n        source: x\n", "x\n        scope", "'source' belongs to an error given as a number.", "Remove it")]
    [InlineData("plan.yaml", "scope: between_raters", "scope: between_ratters", "between_ratters", "'between_ratters' is no valid 'scope'.", "Did you mean 'between_raters'?")]
    [InlineData("measures.yaml", "feature: largest", "feature: larges", "larges\n", "'larges' is no valid 'feature'.", "Did you mean 'largest'?")]
    [InlineData("measures.yaml", "unit: mm per degree", "unit: mm", "mm\n    kind: curve_summary\n    table: tracking\n    column: lateral_shift_mm\n    over: flexion_deg\n    trial: trial\n    feature: slope", "Measure 'shift_terminal_slope' says mm, but its values are in mm per degree.", "Write unit: mm per degree.")]
    [InlineData("measures.yaml", "to: 30", "to: 0", "0\n    source: The lateral jump", "The arc has no length.", "Give an end beyond the start.")]
    [InlineData("measures.yaml", "to: 30", "to: 300", "300", "'flexion_deg' goes from 0 to 150.", "Stay within")]
    public void A_slip_is_found_at_its_place_with_a_hint(string file, string old, string with, string pointsAt, string what, string hint)
    {
        using DamagedProtocol protocol = new DamagedProtocol("tracking-example").Replace(file, old, with);
        ProtocolFault fault = Assert.Single(protocol.Faults(), f => f.What == what);
        Assert.StartsWith(hint, fault.Hint, StringComparison.Ordinal);
        Assert.Equal(protocol.PlaceOf(file, pointsAt), fault.Place);
    }

    [Fact]
    public void All_slips_are_told_at_once()
    {
        using DamagedProtocol protocol = new DamagedProtocol("tracking-example")
            .Replace("plan.yaml", "from: T4", "from: T9")
            .Replace("plan.yaml", "[shift_at_extension, shift_mean", "[shift_at_extension, shift_men")
            .Replace("measures.yaml", "to: 30", "to: 300");
        Assert.Equal(3, protocol.Faults().Count(f => !f.What.Contains("shift_terminal_slope", StringComparison.Ordinal)));
    }
}
