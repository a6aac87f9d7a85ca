using RotationStudy.Study.Withdrawal;

namespace RotationStudy.Tests.Withdrawal;

public sealed class WithdrawnIdsTests : IDisposable
{
    private readonly string file = Path.GetTempFileName();

    public void Dispose() => File.Delete(file);

    [Fact]
    public void A_list_has_one_identifier_a_line_with_remarks_and_empty_lines()
    {
        File.WriteAllText(file, "\uFEFF# told by the sites\r\nA-017\r\n\r\n  b-002 \r\nA-017\r\n");
        WithdrawnIds ids = WithdrawnIds.Read(file);
        Assert.Equal(2, ids.Count);
        Assert.NotNull(ids.Find(" a-017"));
        Assert.NotNull(ids.Find("B-002"));
        Assert.Null(ids.Find("A-01"));
    }

    [Theory]
    [InlineData("A-001\nA-002,A-003\n", ":2:")]
    [InlineData("participant id\n", ":1:")]
    public void A_line_that_holds_more_is_refused_without_repeating_it(string text, string place)
    {
        File.WriteAllText(file, text);
        InvalidWithdrawalList error = Assert.Throws<InvalidWithdrawalList>(() => WithdrawnIds.Read(file));
        Assert.Contains(place, error.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("A-002", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("A-017", "repeat those of A-017, L, 1 (line 2)", "repeat those of [withdrawn], L, 1 (line 2)")]
    [InlineData("A-017", "A-0171 and XA-017 and a-017.", "A-0171 and XA-017 and [withdrawn].")]
    [InlineData("7", "7 of 17 cells in line 7; participant '7' of 7, L", "7 of 17 cells in line 7; participant '[withdrawn]' of [withdrawn], L")]
    [InlineData("7", "7 | baseline | L", "[withdrawn] | baseline | L")]
    [InlineData("A-017", "nobody", "nobody")]
    public void An_identifier_is_replaced_where_it_stands_for_a_person(string id, string text, string left)
        => Assert.Equal(left, WithdrawnIds.Of(id).Without(text));
}
