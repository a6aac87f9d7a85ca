using RotationStudy.Report;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Report;

public class NumberFormatTests
{
    [Theory]
    [InlineData(0.0004, "<0.001")]
    [InlineData(0.001, "0.001")]
    [InlineData(0.0321, "0.032")]
    [InlineData(0.0996, "0.100")]
    [InlineData(0.412, "0.41")]
    [InlineData(0.999, ">0.99")]
    [InlineData(1.0, "1.00")]
    public void P_values(double p, string text) => Assert.Equal(text, NumberFormat.PValue(p));

    [Theory]
    [InlineData(1.4567, 1.101, 1.834, "1.46 (1.10 to 1.83)")]
    [InlineData(14.25, 3.9, double.PositiveInfinity, "14.2 (3.90 to ∞)")]
    [InlineData(0.0345, 0.0021, 0.412, "0.035 (0.0021 to 0.41)")]
    [InlineData(123.4, 0, 98765, "123 (0 to 98,765)")]
    [InlineData(9.996, 9.994, 99.96, "10.0 (9.99 to 100)")]
    public void Ratios(double value, double lower, double upper, string text)
        => Assert.Equal(text, NumberFormat.EstimateAndInterval(SampleQuestions.Ratio("t", "l", "odds ratio", value, lower, upper, 0.5)));

    [Theory]
    [InlineData(-2.413, -4.62, -0.21, "−2.4 (−4.6 to −0.2)")]
    [InlineData(0.3127, 0.0812, 0.5443, "0.31 (0.08 to 0.54)")]
    [InlineData(153.2, 99, 207, "153 (99 to 207)")]
    [InlineData(-0.00001, -0.3, 0.3, "0.00 (−0.30 to 0.30)")]
    [InlineData(2.5, double.NegativeInfinity, 3, "2.5 (−∞ to 3.0)")]
    public void Differences_show_two_digits_of_the_width(double value, double lower, double upper, string text)
    {
        EstimateRow row = SampleQuestions.Ratio("t", "l", "difference", 1, 1, 1, 0.5) with { Value = value, Lower = lower, Upper = upper, NoEffect = 0 };
        Assert.Equal(text, NumberFormat.EstimateAndInterval(row));
    }

    [Theory]
    [InlineData(-0.0, "0")]
    [InlineData(1234.5, "1234")]
    [InlineData(123456.0, "123,456")]
    [InlineData(-0.05, "−0.05")]
    public void Brief_numbers(double value, string text) => Assert.Equal(text, NumberFormat.Brief(value));

    [Theory]
    [InlineData(0, "0 participants")]
    [InlineData(1, "fewer than 5 participants")]
    [InlineData(4, "fewer than 5 participants")]
    [InlineData(5, "5 participants")]
    public void Small_counts_of_people_are_hidden(int n, string text)
        => Assert.Equal(text, new SmallCounts(5).Words(n, "participant", "participants"));

    [Fact]
    public void What_cannot_be_seen_is_shown_as_its_code()
        => Assert.Equal("a[U+202E]b[U+0000]c\u00e9 \u2264", VisibleText.Of("a\u202Eb\0c\u00e9 \u2264"));
}
