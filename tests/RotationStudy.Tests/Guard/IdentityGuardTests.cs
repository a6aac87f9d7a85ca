using RotationStudy.Study.Checks;
using RotationStudy.Study.Guard;

namespace RotationStudy.Tests.Guard;

/// <summary>Identifying data planted in a clean export stop it, are placed by file, column and line, and are never repeated. All are invented.</summary>
public sealed class IdentityGuardTests
{
    [Theory]
    [InlineData("identity.name", "Marlene Quandt")]
    [InlineData("identity.name", "Quandt; Matthias")]
    [InlineData("identity.name", "Dr. Oqvist")]
    [InlineData("identity.name", "rebecca")]
    [InlineData("identity.address", "17 Elm Tree Road")]
    [InlineData("identity.address", "Lindenstraße 4")]
    [InlineData("identity.address", "ZZ9 9ZZ")]
    [InlineData("identity.phone", "+00 555 0100 200")]
    [InlineData("identity.phone", "(0555) 010-0200")]
    [InlineData("identity.phone", "555-555-0100")]
    [InlineData("identity.email", "knee.person@example.org")]
    [InlineData("identity.email", "https://example.org/p/12")]
    [InlineData("identity.record_number", "MRN 4711081")]
    [InlineData("identity.record_number", "４７１１０８１")]
    [InlineData("identity.record_number", "900-12-0000")]
    [InlineData("identity.date", "2011-02-28")]
    [InlineData("identity.date", "28.02.2011")]
    [InlineData("identity.date", "2/28/11")]
    [InlineData("identity.date", "20110228")]
    [InlineData("identity.date", "28 Feb 2011")]
    [InlineData("identity.date", "March 3rd 2011")]
    [InlineData("identity.date", "2011-02-28T10:15:00Z")]
    [InlineData("identity.free_text", "the mother says it gave way at school")]
    public void A_cell_that_identifies_stops_the_export_and_is_not_repeated(string rule, string value)
    {
        foreach (string column in new[] { "maturity", "participant_id", "height_cm" })
        {
            using TestExport export = TestExport.Clean().Set("participants.csv", 3, column, value);
            CheckedRecords records = export.Check();
            Assert.True(records.MustStop);
            Finding finding = Assert.Single(records.Findings);
            Assert.Equal((rule, Severity.Stop, "participants.csv", 3, column), (finding.Rule, finding.Severity, finding.File, finding.Line, finding.Column));
            Assert.Null(finding.Participant);
            Assert.DoesNotContain(value, Written(records), StringComparison.OrdinalIgnoreCase);
            Assert.All(records.Tables, t => Assert.Equal(0, t.Rows));
        }
    }

    [Theory]
    [InlineData("identity.age", "age_years", "91.5")]
    [InlineData("identity.date", "last_contact_day", "40602")]
    [InlineData("identity.record_number", "height_cm", "4711081")]
    public void A_number_that_identifies_stops_the_export(string rule, string column, string value)
    {
        using TestExport export = TestExport.Clean().Set("participants.csv", 2, column, value);
        CheckedRecords records = export.Check();
        Assert.Equal((rule, column), (Assert.Single(records.Findings).Rule, records.Findings[0].Column));
        Assert.DoesNotContain(value, Written(records), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("woman")]
    [InlineData("Not Done")]
    [InlineData("n/a")]
    [InlineData("2,5")]
    [InlineData("3.5.1")]
    [InlineData("month_13")]
    public void An_ordinary_slip_is_left_to_the_other_checks(string value)
    {
        using TestExport export = TestExport.Clean();
        export.Set("participants.csv", 2, "maturity", value.Replace(",", ".", StringComparison.Ordinal));
        Assert.Equal("code.unknown", Assert.Single(export.Check().Findings).Rule);
    }

    [Theory]
    [InlineData("patient_name")]
    [InlineData("DateOfBirth")]
    [InlineData("Surname")]
    [InlineData("home address")]
    [InlineData("visit_date")]
    [InlineData("MRN")]
    public void A_column_that_says_it_identifies_stops_the_export_though_the_protocol_does_not_know_it(string header)
    {
        CheckedRecords records = WithColumn(header, "x");
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("identity.header", 1, header), (finding.Rule, finding.Line, finding.Column));
    }

    [Fact]
    public void Cells_of_a_column_that_nobody_declared_are_looked_at_too()
    {
        CheckedRecords records = WithColumn("mood", "Marlene Quandt");
        Finding finding = Assert.Single(records.Findings);
        Assert.Equal(("identity.name", "mood", 2), (finding.Rule, finding.Column, finding.Line));
        Assert.Equal(
            "The column 'mood' of visits.csv holds what looks like a person's name, in lines 2, 3, 4, 5, 6 and 3 more. "
                + "The value is not repeated here. Remove it at the source, destroy this export, and send a new one.",
            finding.Message);
    }

    [Fact]
    public void A_header_that_is_a_value_itself_is_not_repeated()
    {
        CheckedRecords records = WithColumn("Marlene Quandt", "x");
        Assert.Equal("identity.header", Assert.Single(records.Findings).Rule);
        Assert.DoesNotContain("Quandt", Written(records), StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_else_that_a_row_holds_is_told_once_it_identifies()
    {
        using TestExport export = TestExport.Clean()
            .Set("participants.csv", 3, "participant_id", "sebastian-1")
            .Set("participants.csv", 3, "sex", "qqq");
        string written = Written(export.Check());
        Assert.DoesNotContain("sebastian", written, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("qqq", written, StringComparison.Ordinal);
    }

    private static CheckedRecords WithColumn(string header, string value)
    {
        using TestExport export = TestExport.Clean();
        string[] lines = [.. export.Lines("visits.csv")];
        for (int line = 0; line < lines.Length; line++)
            export.SetLine("visits.csv", line + 1, $"{lines[line]},{(line == 0 ? header : value)}");
        return export.Check();
    }

    private static string Written(CheckedRecords records)
        => System.Text.Encoding.UTF8.GetString(QueryList.Csv(QueryList.Of(records.Findings, PreviousQueries.None)))
            + System.Text.Encoding.UTF8.GetString(GuardReport.Csv(records.Findings) ?? [])
            + string.Join('\n', records.Findings.Select(f => f.ToString()));
}
