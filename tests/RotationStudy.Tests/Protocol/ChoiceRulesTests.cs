using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Protocol;

/// <summary>Each kind of slip in the choices of a plan is found at its place, alone, with a useful hint.</summary>
public sealed class ChoiceRulesTests
{
    [Theory]
    [InlineData("question: Q5\n", "question: Q55\n", "Q55", "No question is called 'Q55'.", "Did you mean 'Q5'?")]
    [InlineData("exposure: anteversion\n", "exposure: anteversoin\n", "anteversoin", "'anteversoin' is no exposure of question Q5.", "Did you mean 'anteversion'?")]
    [InlineData("by: laxity_seven", "by: laxity_sevn", "laxity_sevn", "No measure is called 'laxity_sevn'.", "Did you mean 'laxity_seven'?")]
    [InlineData("by: laxity_seven", "by: sex", "sex }]", "Question Q5 uses 'sex' already.", "Leave the other term out")]
    [InlineData("by: laxity_seven", "by: maturity", "maturity }]", "'maturity' cannot stand in for 'laxity_nine': one has codes, the other numbers.", "Name a measure of the same kind of values.")]
    [InlineData("replace: [{ measure: laxity_nine", "replace: [{ measure: site", "site, by", "Question Q5 does not use 'site'.", "Use")]
    [InlineData("leave_out: [laxity_nine] }", "leave_out: [maturity] }", "maturity]", "Question Q5 is not adjusted for 'maturity'.", "Use")]
    [InlineData("measure: patellar_height, per: 0.1, reason", "measure: age_years, per: 0.1, reason", "age_years, per: 0.1, reason", "Question Q5 uses 'age_years' already.", "Remove it here.")]
    [InlineData("merge_within_days: 7 }", "merge_within_days: -7 }", "-7 }", "A window of days cannot be negative.", "Write 0 or more.")]
    [InlineData(", merge_within_days: 7 }", " }", "{ label: within 7 days", "Option 'within 7 days' changes nothing.", "Say what it replaces")]
    [InlineData("It is the score that most clinics record. }", "It is the score that most clinics record., merge_within_days: 3 }", "{ label: nine components", "The first option of 'Laxity score' is the planned one and must change nothing.", "Write the planned option first")]
    [InlineData("kind: time_to_first, entry: entry_day, exit: first_dislocation_day,", "kind: mean, outcome: function_score,", "mean, outcome", "An estimate of kind 'Mean' cannot stand on one axis with those of Q5.", "Ratios go with")]
    [InlineData("exit: first_dislocation_day, event: ever_dislocated }", "exit: first_dislocation_day }", "{ kind: time_to_first", "A model of kind 'TimeToFirst' needs 'event'.", "Name the measure.")]
    [InlineData("counts: poisson, outcome", "counts: poison, outcome", "poison", "'poison' is no valid 'counts'.", "Did you mean 'poisson'?")]
    [InlineData("hip_gate: \"off\"", "hip_gate: \"on\"", "\"on\"", "'on' is no valid 'hip_gate'.", "Did you mean 'off'?")]
    [InlineData("leave_out: [laxity_nine] }", "leaveout: [laxity_nine] }", "leaveout", "Unknown key 'leaveout' in 'options' of 'dimensions' of a list of choices.", "Did you mean 'leave_out'?")]
    public void A_slip_is_found_at_its_place_with_a_hint(string old, string with, string pointsAt, string what, string hint)
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("plan.yaml", old, with);
        ProtocolFault fault = Assert.Single(protocol.Faults(), f => f.What == what);
        Assert.StartsWith(hint, fault.Hint, StringComparison.Ordinal);
        Assert.Equal(protocol.PlaceOf("plan.yaml", pointsAt), fault.Place);
    }

    [Fact]
    public void A_chart_of_a_question_without_choices_is_a_fault()
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("figures.yaml", "questions: [Q5]", "questions: [Q4]");
        ProtocolFault fault = Assert.Single(protocol.Faults());
        Assert.Equal("The plan lists no choices for question Q4.", fault.What);
    }
}
