using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Guard;

public sealed class DeidentificationReaderTests
{
    [Fact]
    public void The_file_is_read_into_columns_and_widths()
    {
        Deidentification read = Read("smallest_group: 5\nquasi_identifiers:\n  - { column: sex }\n  - { column: age_years, width: 5 }\n").Deidentification!;
        Assert.Equal(5, read.SmallestGroup);
        Assert.Equal("sex by 0, age_years by 5", string.Join(", ", read.QuasiIdentifiers.Select(q => FormattableString.Invariant($"{q.Column} by {q.Width}"))));
    }

    [Theory]
    [InlineData("smallest_group: 1\nquasi_identifiers: [{ column: sex }]\n", "'smallest_group' must be 2 or more.")]
    [InlineData("smallest_group: 5\nquasi_identifiers: [{ column: sexx }]\n", "'sexx' is no column of the table that lists the participants.")]
    [InlineData("smallest_group: 5\nquasi_identifiers: [{ column: age_years }]\n", "'age_years' needs a width above 0 if it is a number, and none otherwise.")]
    [InlineData("smallest_group: 5\nquasi_identifiers: [{ column: sex }]\nk: 3\n", "Unknown key 'k'")]
    public void A_fault_is_told_with_its_file(string yaml, string what)
    {
        ProtocolFault fault = Assert.Single(Assert.Throws<ProtocolError>(() => Read(yaml)).Faults);
        Assert.Equal("deidentification.yaml", fault.Place.File);
        Assert.StartsWith(what, fault.What, StringComparison.Ordinal);
    }

    private static StudyProtocol Read(string yaml)
    {
        string folder = Directory.CreateTempSubdirectory("rotationstudy-test-").FullName;
        try
        {
            string shipped = Path.Combine(Repository.Root, "protocols", "patellar-instability");
            foreach (string file in Directory.EnumerateFiles(shipped, "*.yaml", SearchOption.AllDirectories))
            {
                string copy = Path.Combine(folder, Path.GetRelativePath(shipped, file));
                Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
                File.Copy(file, copy);
            }
            File.WriteAllText(Path.Combine(folder, "deidentification.yaml"), yaml);
            return ProtocolReader.Read(folder);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
