using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using Parquet;
using Parquet.Schema;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Report.Files;

public class ResultsFilesTests
{
    [Fact]
    public void Results_read_back_write_the_same_bytes_again()
    {
        byte[] first = ResultsJson.Write(SampleResults.Study());
        StudyResults back = ResultsJson.Read(first);

        Assert.Equal(first, ResultsJson.Write(back));
        Assert.Equal(double.PositiveInfinity, back.Questions[3].Estimates[1].Upper);
        Assert.Equal(SampleResults.Study().Questions[1].Scatters[0].X.ToArray(), back.Questions[1].Scatters[0].X.ToArray());
        Assert.Equal(SampleResults.Study().Study.Title, back.Study.Title);
    }

    [Fact]
    public void Json_is_text_for_people_too()
    {
        string json = Encoding.UTF8.GetString(ResultsJson.Write(SampleResults.Study()));

        Assert.DoesNotContain('\r', json);
        Assert.EndsWith("}\n", json, StringComparison.Ordinal);
        Assert.Contains("\"upper\": \"Infinity\"", json, StringComparison.Ordinal);
        Assert.Contains("\"smallest_printed_count\": 5", json, StringComparison.Ordinal);
        Assert.Contains("under 15°", json, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"seed\":", "\"sead\":")]
    [InlineData("\"program_version\": \"0.1.0\"", "\"program_version\": null")]
    public void Json_with_a_strange_or_missing_key_is_refused(string key, string damaged)
    {
        string json = Encoding.UTF8.GetString(ResultsJson.Write(SampleResults.Study()));
        byte[] bytes = Encoding.UTF8.GetBytes(json.Replace(key, damaged, StringComparison.Ordinal));
        Assert.Throws<JsonException>(() => ResultsJson.Read(bytes));
    }

    [Fact]
    public void Every_question_has_a_row_even_without_an_estimate()
    {
        FlatTable table = EstimateList.ToTable(EstimateList.Of(SampleResults.Study()));
        string[] lines = table.ToCsv().TrimEnd('\n').Split('\n');

        Assert.Equal(12, lines.Length);
        Assert.Contains(lines, l => l.StartsWith("Q7,Derotation operations,odds,no,none,", StringComparison.Ordinal));
        Assert.Contains(lines, l => l.Contains(",14.2,3.9,Infinity,2E-05,", StringComparison.Ordinal));
        Assert.Contains(lines, l => l.Contains(",beside,", StringComparison.Ordinal));
    }

    [Fact]
    public void Further_analyses_have_rows_with_their_names()
    {
        StudyResults study = SampleResults.Study();
        QuestionResult rate = SampleQuestions.Rate();
        EstimateRow row = rate.Estimates[0] with { Value = 1.25, FamilyPValue = 0.012 };
        QuestionSupplement supplement = QuestionSupplement.None with
        {
            Others = [new SupplementaryResult("Without laxity", "sensitivity", "Not adjusted for laxity.", "A reason.", "An answer.", [row], rate.Counts with { Rows = 400 }, [])],
            MissingData = new MissingDataComparison(600, 100, "How.", [new MissingDataApproach("Complete cases", null, rate.Estimates, []), new MissingDataApproach("Lowered by 5", -5, [row], [0.2])], "A sentence."),
        };
        string[] lines = EstimateList.ToTable(EstimateList.Of(study with { Questions = [rate with { Supplement = supplement }] })).ToCsv().TrimEnd('\n').Split('\n');
        Assert.Equal(5, lines.Length);
        Assert.EndsWith(",family_p_value,analysis", lines[0]);
        Assert.Contains(",sensitivity,", lines[3], StringComparison.Ordinal);
        Assert.Contains(",400,", lines[3], StringComparison.Ordinal);
        Assert.EndsWith(",0.012,Without laxity", lines[3]);
        Assert.Contains(",missing_data,", lines[4], StringComparison.Ordinal);
        Assert.EndsWith("Lowered by 5", lines[4]);
    }

    [Fact]
    public async Task Parquet_reads_back_what_the_table_holds_and_is_the_same_twice()
    {
        FlatTable table = EstimateList.ToTable(EstimateList.Of(SampleResults.Study()));
        byte[] bytes = ResultsParquet.Write(table);
        Assert.Equal(bytes, ResultsParquet.Write(table));

        using MemoryStream stream = new(bytes);
        await using ParquetReader reader = await ParquetReader.CreateAsync(stream);
        using ParquetRowGroupReader group = reader.OpenRowGroupReader(0);
        DataField value = reader.Schema.GetDataFields().Single(f => f.Name == "upper_95");
        double?[] read = new double?[group.RowCount];
        await group.ReadAsync<double>(value, read);

        int column = table.Columns.IndexOf("upper_95");
        Assert.Equal(table.Rows.Select(r => r[column].Number), read);
        Assert.Equal(table.Columns.AsEnumerable(), reader.Schema.GetDataFields().Select(f => f.Name));
    }

    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("+4", "'+4")]
    [InlineData("a,\"b\"\nc", "\"a,\"\"b\"\"\nc\"")]
    [InlineData("plain", "plain")]
    public void Text_that_a_spreadsheet_would_run_is_made_harmless(string text, string written)
        => Assert.Equal($"x\n{written}\n", new FlatTable(["x"], [[text]]).ToCsv());

    [Fact]
    public void Negative_numbers_stay_numbers()
        => Assert.Equal("x\n-0.1\n", new FlatTable(["x"], [ImmutableArray.Create<FlatCell>(-0.1)]).ToCsv());
}
