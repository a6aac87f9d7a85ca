using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Tests.Protocol;

public sealed class NearestNameTests
{
    [Theory]
    [InlineData("vist", "visit")]
    [InlineData("Visit", "visit")]
    [InlineData("participant id", "participant_id")]
    [InlineData("siet", "site")]
    public void The_nearest_name_is_found(string wrong, string right)
        => Assert.Equal(right, NearestName.Of(wrong, ["site", "visit", "participant_id"]));

    [Fact]
    public void Nothing_near_gives_nothing()
        => Assert.Null(NearestName.Of("haemoglobin", ["site", "visit"]));

    [Fact]
    public void Few_names_are_listed_and_many_are_counted()
    {
        Assert.Equal("Use 'alpha', 'beta'.", NearestName.Hint("zzzzzz", ["alpha", "beta"]));
        Assert.StartsWith("There are 20, among them", NearestName.Hint("zzzzzz", [.. Enumerable.Range(10, 20).Select(i => $"name-{i}")]), StringComparison.Ordinal);
    }
}
