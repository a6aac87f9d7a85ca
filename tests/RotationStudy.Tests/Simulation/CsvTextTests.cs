using System.Text;
using RotationStudy.Simulation.Exports;
using RotationStudy.Simulation.Readings;

namespace RotationStudy.Tests.Simulation;

public class CsvTextTests
{
    [Fact]
    public void Numbers_are_invariant_missing_is_empty_or_NA_and_lines_end_with_a_line_feed()
        => Assert.Equal("-2.5,,NA,yes,L\n", Line(c => c.Cell(-2.5).Cell(Reading.NotRecorded).Cell(Reading.NotDone).YesNo(Reading.Of(1)).Cell('L')));

    [Fact]
    public void Minus_zero_is_written_as_zero() => Assert.Equal("0\n", Line(c => c.Cell(-0.0)));

    [Theory]
    [InlineData("=1+1", "'=1+1\n")]
    [InlineData("@home", "'@home\n")]
    [InlineData("a,b", "\"a,b\"\n")]
    [InlineData("say \"no\"", "\"say \"\"no\"\"\"\n")]
    public void Text_that_a_spreadsheet_would_run_or_split_is_made_harmless(string text, string expected)
        => Assert.Equal(expected, Line(c => c.Cell(text)));

    private static string Line(Action<CsvText> write)
    {
        CsvText csv = new();
        write(csv);
        csv.EndLine();
        return Encoding.UTF8.GetString(csv.ToBytes());
    }
}
