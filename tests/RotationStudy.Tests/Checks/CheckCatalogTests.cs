using RotationStudy.Study.Checks;

namespace RotationStudy.Tests.Checks;

public sealed class CheckCatalogTests
{
    [Fact]
    public void Every_rule_has_an_id_of_its_own_and_says_what_it_looks_at()
    {
        Assert.Equal(CheckCatalog.All.Length, CheckCatalog.All.Select(r => r.Id).Distinct().Count());
        Assert.All(CheckCatalog.All, r =>
        {
            Assert.Matches("^[a-z]+\\.[a-z_]+$", r.Id);
            Assert.EndsWith(".", r.Explanation, StringComparison.Ordinal);
            Assert.False(r.Reason.EndsWith('.'));
            Assert.Same(r, CheckCatalog.Rule(r.Id));
        });
    }

    [Fact]
    public void An_unknown_rule_is_explained_by_its_id()
    {
        Assert.Equal("no.such", CheckCatalog.Explain("no.such"));
        Assert.Throws<KeyNotFoundException>(() => CheckCatalog.Rule("no.such"));
    }
}
