using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Checks;

/// <summary>The exports that ship with the project pass ingest under their protocols.</summary>
public sealed class ShippedExportsTests
{
    [Theory]
    [InlineData("growth-example", "growth", 108)]
    [InlineData("recurrence-example", "recurrences", 178)]
    public void Public_example_data_are_used_to_the_last_row(string name, string table, int rows)
    {
        string folder = Path.Combine(Repository.Root, "protocols", name);
        CheckedRecords records = Check(folder, Path.Combine(folder, "example-exports"));
        Assert.Empty(records.Findings);
        Assert.Equal(rows, records[table].Rows);
    }

    [Theory]
    [InlineData("growth-example", "growth.csv", "Mixed/orthodont/data.csv")]
    [InlineData("recurrence-example", "recurrences.csv", "Recurrent/bladder/bladder2_countingprocess.csv")]
    public void Public_example_data_are_the_reference_data_byte_for_byte(string name, string file, string reference)
        => Assert.Equal(
            File.ReadAllBytes(Path.Combine(Repository.Root, "tests", "RotationStudy.Tests", "ReferenceData", reference)),
            File.ReadAllBytes(Path.Combine(Repository.Root, "protocols", name, "example-exports", file)));

    [Fact]
    public void The_demo_cohort_stops_nowhere_and_loses_no_row_without_a_reason()
    {
        CheckedRecords records = Check(Path.Combine(Repository.Root, "protocols", "patellar-instability"), Path.Combine(Repository.Root, "synthetic-data", "demo"));
        Assert.False(records.MustStop);
        Assert.Equal(300, records["participants"].Rows);
        Assert.All(records.Accounts, account => Assert.True(account.Balances));
    }

    private static CheckedRecords Check(string protocolFolder, string exportFolder)
    {
        StudyProtocol protocol = ProtocolReader.Read(protocolFolder);
        return RecordChecker.Check(protocol, ExportReader.Read(exportFolder, protocol));
    }
}
