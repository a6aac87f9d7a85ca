using RotationStudy.Study.Checks;
using RotationStudy.Study.Records;

namespace RotationStudy.Tests.Checks;

/// <summary>One wrong cell in a clean export: one finding with file, line, column and value, and the value set aside or used.</summary>
public sealed class CellChecksTests
{
    private const string Exams = "knee_exams.csv";
    private const string Rotation = "hip_internal_rotation_deg";

    [Theory]
    [InlineData("2,5", "type.decimal_comma", "'2,5' in 'hip_internal_rotation_deg' is written with a comma. Write 2.5 if that is meant. The value is set aside, the row is kept.")]
    [InlineData("1,234.5", "type.decimal_comma", "'1,234.5' in 'hip_internal_rotation_deg' is written with a comma. The value is set aside, the row is kept.")]
    [InlineData("NaN", "type.number", "'NaN' in 'hip_internal_rotation_deg' is not a number. Is 'NA' meant, for 'not done'? The value is set aside, the row is kept.")]
    [InlineData("Infinity", "type.number", "'Infinity' in 'hip_internal_rotation_deg' is not a number. The value is set aside, the row is kept.")]
    [InlineData("1e999", "type.number", "'1e999' in 'hip_internal_rotation_deg' is not a number. The value is set aside, the row is kept.")]
    [InlineData(" 45", "type.number", "' 45' in 'hip_internal_rotation_deg' is not a number. There are blanks around it. The value is set aside, the row is kept.")]
    [InlineData("−5", "type.number", "'−5' in 'hip_internal_rotation_deg' is not a number. Write the minus sign as '-'. The value is set aside, the row is kept.")]
    [InlineData("45°", "type.number", "'45°' in 'hip_internal_rotation_deg' is not a number. The value is set aside, the row is kept.")]
    [InlineData("n/a", "type.number", "'n/a' in 'hip_internal_rotation_deg' is not a number. Is 'NA' meant, for 'not done'? The value is set aside, the row is kept.")]
    [InlineData("450", "range.possible", "'450' in 'hip_internal_rotation_deg' cannot be true: possible is -30 to 120 degrees. The value is set aside, the row is kept.")]
    public void A_value_that_cannot_be_used_is_set_aside_and_the_row_is_kept(string value, string rule, string message)
    {
        using TestExport export = TestExport.Clean();
        // The row is written by hand, since a cell may hold a comma.
        string row = export.Lines(Exams)[4].Replace(",50,43,", $",\"{value}\",43,", StringComparison.Ordinal);
        export.SetLine(Exams, 5, row);
        CheckedRecords records = export.Check();
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal((rule, Severity.SetAside, Exams, 5, Rotation, value), (finding.Rule, finding.Severity, finding.File, finding.Line, finding.Column, finding.Value));
        Assert.Equal(message, finding.Message);
        Assert.Equal(("A-001", "A"), (finding.Participant, finding.Site));
        RecordTable table = records["knee_exams"];
        Assert.Equal(16, table.Rows);
        int at = table.SourceLines.IndexOf(5);
        Assert.Equal($"value set aside: {CheckCatalog.Rule(rule).Reason}", table[Rotation].MissingReason(at));
    }

    [Fact]
    public void An_unusual_value_is_asked_about_and_used()
    {
        using TestExport export = TestExport.Clean().Set(Exams, 5, Rotation, "100");
        CheckedRecords records = export.Check();
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("range.plausible", Severity.AskTheSite, 5, "100", "5 to 95 degrees"), (finding.Rule, finding.Severity, finding.Line, finding.Value, finding.Expected));
        NumberColumn column = (NumberColumn)records["knee_exams"][Rotation];
        Assert.Equal(100, column.Values[records["knee_exams"].SourceLines.IndexOf(5)]);
    }

    [Theory]
    [InlineData("2.5", false)]
    [InlineData("2.0", true)]
    [InlineData("2", true)]
    public void A_whole_number_may_be_written_with_zeros_and_has_no_fraction(string value, bool used)
    {
        using TestExport export = TestExport.Clean().Set("outcomes.csv", 2, "pain_0_10", value);
        CheckedRecords records = export.Check();
        Assert.Equal(used, records.Findings.IsEmpty);
        if (!used)
            Assert.Equal("'2.5' in 'pain_0_10' is not a whole number. The value is set aside, the row is kept.", Assert.Single(records.Findings).Message);
    }

    [Theory]
    [InlineData("f", "'f' is no code of 'sex'. Write it exactly as 'F'. The value is set aside, the row is kept.")]
    [InlineData("F ", "'F ' is no code of 'sex'. Write it exactly as 'F'. The value is set aside, the row is kept.")]
    [InlineData("woman", "'woman' is no code of 'sex'. Use 'F', 'M'. The value is set aside, the row is kept.")]
    public void An_unknown_code_is_set_aside_and_its_variant_named(string value, string message)
    {
        using TestExport export = TestExport.Clean().Set("participants.csv", 2, "sex", value);
        CheckedRecords records = export.Check();
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("code.unknown", "sex", value), (finding.Rule, finding.Column, finding.Value));
        Assert.Equal(message, finding.Message);
        Assert.Equal(4, records["participants"].Rows);
    }

    [Fact]
    public void Missing_cells_keep_their_reason_and_only_a_required_one_is_asked_about()
    {
        using TestExport export = TestExport.Clean()
            .Set("participants.csv", 2, "height_cm", "")
            .Set("participants.csv", 3, "height_cm", "NA")
            .Set("participants.csv", 4, "age_years", "")
            .Set("participants.csv", 5, "maturity", "NA");
        CheckedRecords records = export.Check();
        RecordTable roster = records["participants"];
        Assert.Equal("not recorded", roster["height_cm"].MissingReason(0));
        Assert.Equal("not done", roster["height_cm"].MissingReason(1));
        Assert.Equal("not assessed", roster["maturity"].MissingReason(3));
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("value.required", Severity.AskTheSite, 4, "age_years"), (finding.Rule, finding.Severity, finding.Line, finding.Column));
        Assert.Equal("'age_years' is empty. Please fill it in.", finding.Message);
    }

    [Theory]
    [InlineData("links")]
    [InlineData("l")]
    [InlineData("both")]
    public void A_side_that_is_neither_sets_the_row_aside(string side)
    {
        using TestExport export = TestExport.Clean().Set("events.csv", 2, "side", side);
        CheckedRecords records = export.Check();
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("side.unknown", Severity.SetAside, "events.csv", 2, "side", side), (finding.Rule, finding.Severity, finding.File, finding.Line, finding.Column, finding.Value));
        Assert.Equal($"The side '{side}' is neither L nor R. The row is set aside.", finding.Message);
        RowAccount account = Assert.Single(records.Accounts, a => a.Table == "events");
        Assert.Equal((2, 1, new RuleCount("side.unknown", 1)), (account.Read, account.Used, Assert.Single(account.SetAside)));
    }

    [Theory]
    [InlineData("", "key.missing", "'visit' is missing (not recorded), so the row belongs nowhere. The row is set aside.")]
    [InlineData("month_13", "code.unknown", "'month_13' is no code of 'visit'. Did you mean 'month_12'? The row is set aside.")]
    public void A_row_without_a_usable_key_is_set_aside(string visit, string rule, string message)
    {
        using TestExport export = TestExport.Clean().Set("outcomes.csv", 2, "visit", visit);
        CheckedRecords records = export.Check();
        Assert.Equal((rule, message), (Assert.Single(records.Findings).Rule, records.Findings[0].Message));
        Assert.Equal(7, records["outcomes"].Rows);
    }

    [Theory]
    [InlineData(" A-001", "The identifier ' A-001' in 'participant_id' has blanks around it. The row is set aside.")]
    [InlineData("А-001", "The identifier 'А-001' in 'participant_id' holds letters or signs that are not plain and may look like others. The row is set aside.")]
    [InlineData("A\u202E-001", "The identifier 'A[U+202E]-001' in 'participant_id' holds letters or signs that are not plain and may look like others. The row is set aside.")]
    [InlineData("A\u0007-001", "The identifier 'A[U+0007]-001' in 'participant_id' holds control characters. The row is set aside.")]
    [InlineData("=1+1", "The identifier '=1+1' in 'participant_id' holds a blank or a sign that identifiers do not have. The row is set aside.")]
    public void An_identifier_that_only_looks_right_sets_the_row_aside(string id, string message)
    {
        using TestExport export = TestExport.Clean().Set("outcomes.csv", 2, "participant_id", id);
        CheckedRecords records = export.Check();
        Assert.Equal(("identifier.form", message), (Assert.Single(records.Findings).Rule, records.Findings[0].Message));
    }
}
