using RotationStudy.Study.Checks;

namespace RotationStudy.Tests.Checks;

public sealed class CleanExportTests
{
    [Fact]
    public void A_clean_export_has_no_findings_and_keeps_every_row()
    {
        using TestExport export = TestExport.Clean();
        CheckedRecords records = export.Check();
        Assert.Empty(records.Findings);
        Assert.Equal(8, records.Accounts.Length);
        Assert.All(records.Accounts, account => Assert.Equal(account.Read, account.Used));
        Assert.Equal(4, records["participants"].Rows);
        Assert.Equal(16, records["knee_exams"].Rows);
    }
}
