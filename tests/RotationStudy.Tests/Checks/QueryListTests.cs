using System.Text;
using CsvHelper;
using RotationStudy.Study.Checks;

namespace RotationStudy.Tests.Checks;

public sealed class QueryListTests
{
    [Fact]
    public void The_list_is_sorted_by_site_and_reads_back_as_CSV()
    {
        using TestExport export = TestExport.Clean()
            .Set("outcomes.csv", 9, "pain_0_10", "99")
            .Set("outcomes.csv", 2, "pain_0_10", "98")
            .Set("visits.csv", 3, "visit_day", "500");
        List<string[]> rows = Read(Write(export.Check().Findings));
        Assert.Equal("query", rows[0][0]);
        Assert.Equal(["A", "A", "C"], rows.Skip(1).Select(r => r[1]));
        Assert.Equal(["outcomes.csv", "visits.csv", "outcomes.csv"], rows.Skip(1).Select(r => r[4]));
        Assert.Equal(["left out", "please answer", "left out"], rows.Skip(1).Select(r => r[2]));
    }

    [Fact]
    public void An_id_stays_when_rows_move_and_differs_between_questions()
    {
        using TestExport export = TestExport.Clean().Set("outcomes.csv", 9, "pain_0_10", "99").Set("outcomes.csv", 9, "knee_function_score", "200");
        string[] before = [.. Read(Write(export.Check().Findings)).Skip(1).Select(r => r[0])];
        string moved = export.Lines("outcomes.csv")[8];
        export.Lines("outcomes.csv").RemoveAt(8);
        export.Lines("outcomes.csv").Insert(1, moved);
        string[] after = [.. Read(Write(export.Check().Findings)).Skip(1).Select(r => r[0])];
        Assert.Equal(before, after);
        Assert.Equal(2, before.Distinct().Count());
        Assert.All(before, id => Assert.Equal(12, id.Length));
    }

    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("+cmd", "'+cmd")]
    [InlineData("-2+3", "'-2+3")]
    [InlineData("-3", "-3")]
    [InlineData("plain", "plain")]
    [InlineData("", "")]
    public void Formulas_are_neutralized_and_numbers_stay(string text, string written)
        => Assert.Equal(written, QueryList.Neutralized(text));

    [Fact]
    public void A_formula_in_a_cell_goes_out_as_text()
    {
        using TestExport export = TestExport.Clean().Set("outcomes.csv", 2, "pain_0_10", "=HYPERLINK(1)");
        string[] row = Read(Write(export.Check().Findings))[1];
        Assert.Equal("'=HYPERLINK(1)", row[8]);
    }

    private static byte[] Write(IEnumerable<Finding> findings)
    {
        byte[] bytes = QueryList.Csv(QueryList.Of(findings, PreviousQueries.None));
        Assert.Equal(Encoding.UTF8.GetPreamble(), bytes[..3]);
        Assert.DoesNotContain((byte)'\r', bytes);
        return bytes;
    }

    private static List<string[]> Read(byte[] bytes)
    {
        using CsvReader reader = CsvReader.Create(bytes, new CsvReaderOptions { Separator = ',', HasHeader = false, MalformedData = CsvMalformedDataHandling.Throw });
        List<string[]> rows = [];
        while (reader.Read())
            rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.GetString(i))]);
        return rows;
    }
}
