using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Protocol;

public sealed class ShippedProtocolsTests
{
    [Theory]
    [InlineData("patellar-instability", 15, 22)]
    [InlineData("rater-agreement", 3, 5)]
    [InlineData("growth-example", 1, 2)]
    [InlineData("recurrence-example", 1, 1)]
    [InlineData("two-sites-example", 2, 2)]
    public void Every_shipped_protocol_reads_without_a_fault(string name, int tables, int questions)
    {
        StudyProtocol protocol = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", name));
        Assert.Equal(name, protocol.Study.Id);
        Assert.Equal(tables, protocol.Tables.Length);
        Assert.Equal(questions, protocol.Plan.Questions.Length);
    }
}
