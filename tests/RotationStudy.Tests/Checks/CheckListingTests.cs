using RotationStudy.Study.Checks;

namespace RotationStudy.Tests.Checks;

/// <summary>The table of checks in the documents is that of the program.</summary>
public sealed class CheckListingTests
{
    [Fact]
    public void The_page_in_docs_is_the_one_that_the_program_writes()
        => Assert.Equal(CheckListing.Page(TestExport.WithChecks), File.ReadAllText(Path.Combine(Repository.Root, "docs", "checks.md")));
}
