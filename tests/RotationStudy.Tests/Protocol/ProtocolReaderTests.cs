using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Protocol;

/// <summary>Each kind of slip in a protocol is found at its place, alone, with a useful hint.</summary>
public sealed class ProtocolReaderTests
{
    [Theory]
    // Shape: keys, types, words.
    [InlineData("study.yaml", "design: Prospective", "desing: Prospective", "desing", "Unknown key 'desing' in study.yaml.", "Did you mean 'design'?")]
    [InlineData("study.yaml", "seed: 20260115", "seed: soon", "soon", "'seed' must be a whole number, found 'soon'.", "Write digits without a decimal point and without quotes.")]
    [InlineData("study.yaml", "seed: 20260115", "seed: 20260115\nseed: 2", "seed: 2\n", "The key 'seed' stands twice in study.yaml.", "Keep one; the first is on line")]
    [InlineData("study.yaml", "sites:\n", "sites: here\nold_sites:\n", "here", "'sites' must be a list, found 'here'.", "Write one item per line after '-', or [a, b].")]
    [InlineData("tables.yaml", "type: identifier", "type: identifer", "identifer", "'identifer' is no valid 'type'.", "Did you mean 'identifier'?")]
    [InlineData("tables.yaml", "required: true\n    is_roster", "required: yes\n    is_roster", "yes\n    is_roster", "'required' must be true or false, found 'yes'.", "Write true or false without quotes.")]
    [InlineData("plan.yaml", "dated: 2026-01-15", "dated: 15.1.2026", "15.1.2026", "'dated' must be a date, found '15.1.2026'.", "Write year, month and day as 2026-01-31.")]
    [InlineData("measures.yaml", "cut_points: [15, 25]", "cut_points: [15, many]", "many", "'cut_points[1]' must be a number, found 'many'.", "Write digits with a decimal point and no quotes.")]
    [InlineData("measures.yaml", "kind: half_difference", "kind: halfdifference", "halfdifference", "'halfdifference' is no valid 'kind'.", "Did you mean 'half_difference'?")]
    [InlineData("measures.yaml", "kind: side_difference\n    of:", "kind: side_difference\n    visit: baseline\n    of:", "visit: baseline\n    of:", "Unknown key 'visit' in measure 'hip_rotation_midpoint_side_difference'.", "Use")]
    // Names.
    [InlineData("tables.yaml", "key: [participant_id, visit]", "key: [participant_id, visits]", "visits]", "Table 'visits' has no column 'visits'.", "Did you mean 'visit'?")]
    [InlineData("measures.yaml", "table: participants, column: sex", "table: participant, column: sex", "participant, column", "No table is called 'participant'.", "Did you mean 'participants'?")]
    [InlineData("measures.yaml", "column: sex }", "column: gender }", "gender", "Table 'participants' has no column 'gender'.", "Use 'participant_id', 'site', 'sex'")]
    [InlineData("measures.yaml", "visit: month_12", "visit: month12", "month12", "No visit is called 'month12'.", "Did you mean 'month_12'?")]
    [InlineData("measures.yaml", "method: murphy", "method: murphi", "murphi", "Column 'anteversion_method' has no code 'murphi'.", "Did you mean 'murphy'?")]
    [InlineData("measures.yaml", "first: hip_internal_rotation\n    second: hip_external_rotation\n  - id: hip_rotation_arc", "first: laxity_nine\n    second: hip_external_rotation\n  - id: hip_rotation_arc", "laxity_nine", "Measure 'laxity_nine' is declared at or below the measure that uses it.", "Move 'laxity_nine' above 'hip_rotation_midpoint'.")]
    [InlineData("measures.yaml", "codes: [operation]", "codes: [operations]", "operations]", "Column 'event_kind' has no code 'operations'.", "Did you mean 'operation'?")]
    [InlineData("plan.yaml", "outcome: function_score", "outcome: fuction_score", "fuction_score", "No measure is called 'fuction_score'.", "Did you mean 'function_score'?")]
    [InlineData("plan.yaml", "reference: M", "reference: male", "male, reason", "Measure 'sex' has no code 'male'.", "Use 'F', 'M'.")]
    [InlineData("plan.yaml", "clear_codes: [free]", "clear_codes: [clear]", "clear]", "Column 'hip_finding' has no code 'clear'.", "Use 'free', 'painful', 'restricted', 'not_examined'.")]
    [InlineData("figures.yaml", "questions: [Q6]", "questions: [Q77]", "Q77", "No question is called 'Q77'.", "Did you mean 'Q7'?")]
    [InlineData("figures.yaml", "exposure: anteversion", "exposure: anteversoin", "anteversoin", "'anteversoin' is no exposure of question Q2.", "Did you mean 'anteversion'?")]
    // Units, ranges, sources.
    [InlineData("tables.yaml", "unit: years", "unit: year", "year\n", "Unknown unit 'year'.", "Did you mean 'years'?")]
    [InlineData("tables.yaml", "{ lowest: 8, highest: 31 }", "{ lowest: 31, highest: 8 }", "31, highest", "The range of 'age_years' runs from 31 down to 8.", "Write the lower value as 'lowest'.")]
    [InlineData("tables.yaml", "{ lowest: 8, highest: 31 }", "{ lowest: 8, highest: 131 }", "{ lowest: 8", "The plausible range of 'age_years' reaches beyond the possible one.", "Keep plausible values within possible ones.")]
    [InlineData("measures.yaml", "unit: mm\n    definition: As by magnetic", "unit: cm\n    definition: As by magnetic", "cm\n    definition: As by", "Measure 'tubercle_distance_ct' says cm, but its values are in mm.", "Write unit: mm.")]
    [InlineData("tables.yaml", "code: NA, meaning: not assessed", "code: open, meaning: not assessed", "open, meaning: not", "'open' is a missing code and a valid value of 'maturity' at once.", "Choose a code that no value can have.")]
    [InlineData("tables.yaml", "file: visits.csv", "file: ../visits.csv", "../visits.csv", "'../visits.csv' is no plain file name ending in .csv.", "Use letters a to z, digits, '_' and '-', such as visits.csv.")]
    [InlineData("study.yaml", "day: 183, earliest: 122", "day: 183, earliest: 200", "183,", "The window of visit 'month_6' does not hold its day: 200 to 244 around 183.", "Order them earliest, day, latest.")]
    // The course: entry, competing events, recovery, diaries, scores, flags.
    [InlineData("measures.yaml", "entry: entry_day", "entry: prior_instability", "prior_instability\n    events", "Measure 'prior_instability' is no day of entry in the unit of the follow-up.", "Name a measure of kind entry.")]
    [InlineData("measures.yaml", "merge_within_days: 7, side: other }", "merge_within_days: 7, side: left }", "left }", "'left' is no valid 'side'.", "Use")]
    [InlineData("measures.yaml", "merge_within_days: 7, from_number: 2 }", "merge_within_days: 7, from_number: 0 }", "0 }\n    follow_up: follow_up_days\n  - id: other", "Events are numbered from 1.", "Write 1 for all events")]
    [InlineData("measures.yaml", "codes: [ligament_reconstruction] }", "codes: [ligament] }", "ligament] }", "Column 'operation_kind' has no code 'ligament'.", "Use")]
    [InlineData("measures.yaml", "follow_up: follow_up_whole\n  - id: first_event_day", "follow_up: follow_up_days\n  - id: first_event_day", "follow_up_days\n  - id: first_event_day", "The follow-up 'follow_up_days' ends at one of these events, so the others could never come after it.", "Name a follow-up that ends at none of them.")]
    [InlineData("measures.yaml", "kind: first_of_day\n    of: first_event", "kind: first_of_day\n    of: operated", "operated\n  - id: second_event", "'operated' is not of kind first_of.", "Name a measure of kind first_of.")]
    [InlineData("measures.yaml", "unit: weeks\n    source: Common practice, no source.\n    kind: watched_after", "unit: years\n    source: Common practice, no source.\n    kind: watched_after", "years\n    source: Common practice, no source.\n    kind: watched", "Times after an event are in days or weeks, counted from days.", "Write unit: days or unit: weeks.")]
    [InlineData("measures.yaml", "table: diary\n    column: training_load", "table: outcomes\n    column: pain_0_10", "outcomes\n    column: pain_0_10", "Table 'outcomes' does not have one row per participant and day.", "Name a diary.")]
    [InlineData("measures.yaml", "    minimum_days: 4\n  - id: weekly_pain", "    minimum_days: 8\n  - id: weekly_pain", "8\n  - id: weekly_pain", "A week has 1 to 7 days that can count.", "Write a number from 1 to 7.")]
    [InlineData("measures.yaml", "kind: week_before\n    of: weekly_load", "kind: week_before\n    of: age_years", "age_years\n  - id: load_before_within", "'age_years' has one value per participant, not one per week.", "Name a measure of kind weekly.")]
    [InlineData("measures.yaml", "at_least_answered: 5", "at_least_answered: 9", "9\n      source: Invented", "The score has 8 items.", "Write how many of them must be answered, 1 or more.")]
    [InlineData("measures.yaml", "    from: function_at_start", "    from: activity_score", null, "Measure 'activity_score' is declared at or below the measure that uses it.", "Move 'activity_score' above 'function_change'.")]
    [InlineData("measures.yaml", "{ measure: other_explanation, is: \"no\" }", "{ measure: other_explanation, is: never }", "never }", "Measure 'other_explanation' has no code 'never'.", "Use 'yes', 'no'.")]
    // Levels and kinds.
    [InlineData("tables.yaml", "type: identifier, role: participant, required: true }\n      - { name: site", "type: identifier, required: true }\n      - { name: site", null, "Table 'participants' names no participant.", "Give one column the role participant.")]
    [InlineData("measures.yaml", "table: participants, column: sex", "table: screening, column: reason", "screening, column", "Table 'screening' names no participant, so nothing in it belongs to one.", "Name a table of participants.")]
    [InlineData("measures.yaml", "column: knee_function_score, visit: month_12 }", "column: knee_function_score }", null, "Measure 'function_score' has one value per participant and visit, but a row of Q3 is one per side.", "Choose the rows, or a measure of one visit.")]
    [InlineData("plan.yaml", "outcome: ever_dislocated", "outcome: site", "site\n    exposures", "'site' cannot be the outcome of a question of this kind.", "Name a measure of kind any_event, or a column of two codes.")]
    [InlineData("plan.yaml", "outcome: dislocations", "outcome: age_years", "age_years\n    follow_up", "'age_years' cannot be the outcome of a question of this kind.", "Name a count.")]
    [InlineData("plan.yaml", "group_by: anteversion_group", "group_by: anteversion", "anteversion\n    family", "'anteversion' makes no groups.", "Name a measure of codes, of kind groups, or of kind any_event.")]
    [InlineData("plan.yaml", "rows: unit\n    outcome: laxity_nine", "rows: unit\n    exit: laxity_nine\n    outcome: laxity_nine", "laxity_nine\n    outcome", "A question of kind 'mean' does not use 'exit'.", "Remove it, or choose the kind that uses it.")]
    [InlineData("plan.yaml", "{ measure: sex, reference: M,", "{ measure: sex, per: 2,", "2, reason", "'sex' has codes, which have no steps.", "Remove 'per'; use 'reference' for codes.")]
    [InlineData("measures.yaml", "visit: baseline\n    reduction: mean\n    hip_gate: true\n  - id: hip_external", "visit: baseline\n    hip_gate: true\n  - id: hip_external", null, "Several rows of 'knee_exams' may belong to one value of 'hip_internal_rotation': they differ in 'rater'.", "Write reduction: mean, first or last.")]
    [InlineData("measures.yaml", "labels: [\"under 15°\", ", "labels: [", "[\"15°", "2 cut points make 3 groups, but 2 labels are given.", "Give one label per group, lowest first.")]
    [InlineData("plan.yaml", "outcome: dislocations\n    follow_up: follow_up_days\n    event: operated", "outcome: laxity_nine\n    follow_up: follow_up_days\n    event: operated", "laxity_nine\n    follow_up", "'laxity_nine' has no days of events.", "Name a measure of kind event_count.")]
    [InlineData("plan.yaml", "follow_up: follow_up_days\n    event: operated", "follow_up: follow_up_whole\n    event: operated", "follow_up_whole\n    event", "'dislocations' is counted within 'follow_up_days', not within 'follow_up_whole'.", "Write 'follow_up_days', or name a count")]
    [InlineData("plan.yaml", "        split_at: 1\n", "        split_at: -1\n", "-1\n        when: prop", "Follow-up is split after it has begun.", "Write a time above 0")]
    [InlineData("plan.yaml", "        leave_out: [laxity_nine]\n        when: events", "        split_at: 1\n        when: events", "1\n        when: events", "Only hazard ratios of a time to a first event can be split.", "Remove 'split_at'.")]
    [InlineData("plan.yaml", "        leave_out: [laxity_nine]\n        when: events", "        when: events", "Without laxity", "'Without laxity' changes nothing.", "Give 'leave_out', 'add', 'replace'")]
    [InlineData("plan.yaml", "when: linearity", "when: linear", "linear\n", "'linear' is no valid 'when'.", "Did you mean 'linearity'?")]
    [InlineData("figures.yaml", "questions: [Q2]", "questions: [Q4]", "Q4]", "Question Q4 yields nothing that this kind of figure shows.", "Name a question of kind mean.")]
    public void A_slip_is_found_at_its_place_with_a_hint(string file, string old, string with, string? pointsAt, string what, string hint)
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace(file, old, with);
        ProtocolFault fault = Assert.Single(protocol.Faults(), f => f.What == what);
        Assert.StartsWith(hint, fault.Hint, StringComparison.Ordinal);
        if (pointsAt is not null)
            Assert.Equal(protocol.PlaceOf(file, pointsAt), fault.Place);
    }

    [Theory]
    [InlineData("measures.yaml", "    source: By arithmetic.\n    kind: sum", "    kind: sum", "Measure 'hip_rotation_arc' has no source.")]
    [InlineData("tables.yaml", "        source: Common practice, no source.\n      - name: body_mass_kg", "      - name: body_mass_kg", "Column 'height_cm' has no source.")]
    [InlineData("plan.yaml", "    family: profile\n", "", "The key 'family' is missing in question 'Q2'.")]
    [InlineData("plan.yaml", ", reason: Laxity and anteversion both fall with age.", "", "The key 'reason' is missing in 'adjustment' of question 'Q2'.")]
    [InlineData("study.yaml", "version: \"1.0\"\n", "", "The key 'version' is missing in study.yaml.")]
    [InlineData("plan.yaml", "    exit: first_dislocation_day\n", "", "The key 'exit' is missing in question 'Q6'.")]
    public void What_is_missing_is_the_only_fault(string file, string old, string with, string what)
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace(file, old, with);
        ProtocolFault fault = Assert.Single(protocol.Faults());
        Assert.Equal(what, fault.What);
        Assert.Equal(file, fault.Place.File);
        Assert.True(fault.Place.Line > 0);
    }

    [Fact]
    public void A_measure_that_cannot_be_read_is_reported_once_and_not_wherever_it_is_named()
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("measures.yaml", "unit: years, kind: value", "unit: years, knd: value");
        ProtocolFault fault = Assert.Single(protocol.Faults());
        Assert.Equal("The key 'kind' is missing in measure 'age_years'.", fault.What);
        Assert.StartsWith("Is 'knd' a slip for it?", fault.Hint, StringComparison.Ordinal);
    }

    [Fact]
    public void All_faults_of_all_files_are_reported_at_once_in_order()
    {
        using DamagedProtocol protocol = new DamagedProtocol()
            .Replace("study.yaml", "design: Prospective", "desing: Prospective")
            .Replace("tables.yaml", "unit: kg", "unit: kq")
            .Replace("plan.yaml", "outcome: laxity_nine", "outcome: laxity")
            .Replace("figures.yaml", "questions: [Q6]", "questions: [Q99]");
        IReadOnlyList<ProtocolFault> faults = protocol.Faults();
        Assert.Equal(["figures.yaml", "plan.yaml", "study.yaml", "study.yaml", "tables.yaml"], faults.Select(f => f.Place.File));
        ProtocolError error = Assert.Throws<ProtocolError>(() => ProtocolReader.Read(protocol.Folder));
        Assert.Contains($"{protocol.PlaceOf("tables.yaml", "kq")}: Unknown unit 'kq'.", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("&name Title", "The name '&name' is not allowed here.")]
    [InlineData("!!str Title", "The type mark 'tag:yaml.org,2002:str' is not allowed here.")]
    [InlineData("[[[[[[[[[[[[[[[[[[[[deep]]]]]]]]]]]]]]]]]]]]", "This is not valid YAML: lists and keys are nested more than 16 deep.")]
    public void Tricks_of_YAML_are_refused(string value, string what)
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("study.yaml", "Torsion, laxity and patellar instability in adolescents and young adults", value);
        Assert.Contains(protocol.Faults(), f => f.What == what && f.Place.File == "study.yaml" && f.Place.Line == 3);
    }

    [Fact]
    public void Broken_YAML_is_a_fault_with_its_place()
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("plan.yaml", "clear_codes: [free]", "clear_codes: [free");
        ProtocolFault fault = Assert.Single(protocol.Faults());
        Assert.StartsWith("This is not valid YAML:", fault.What, StringComparison.Ordinal);
        Assert.Equal("plan.yaml", fault.Place.File);
    }

    [Fact]
    public void A_missing_file_and_a_misspelt_one_are_both_named()
    {
        using DamagedProtocol protocol = new();
        File.Move(Path.Combine(protocol.Folder, "plan.yaml"), Path.Combine(protocol.Folder, "plans.yaml"));
        IReadOnlyList<ProtocolFault> faults = protocol.Faults();
        Assert.Contains(faults, f => f.Place.File == "plan.yaml" && f.What == "The file is missing.");
        Assert.Contains(faults, f => f.Place.File == "plans.yaml" && f.Hint == "Did you mean 'plan.yaml'?");
    }

    [Fact]
    public void A_missing_folder_is_named()
    {
        DirectoryNotFoundException e = Assert.Throws<DirectoryNotFoundException>(() => ProtocolReader.Read("no-such-folder"));
        Assert.Equal("There is no protocol folder 'no-such-folder'.", e.Message);
    }

    [Fact]
    public void Files_are_hashed_in_order_of_name()
    {
        StudyProtocol protocol = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "growth-example"));
        Assert.Equal(["figures.yaml", "measures.yaml", "plan.yaml", "study.yaml", "tables.yaml"], protocol.Files.Select(f => f.Name));
        Assert.All(protocol.Files, f => Assert.Equal(64, f.Sha256.Length));
    }
}
