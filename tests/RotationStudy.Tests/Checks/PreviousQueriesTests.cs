using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Withdrawal;

namespace RotationStudy.Tests.Checks;

/// <summary>What becomes of a query from one list to the next, by files as a data manager keeps them.</summary>
public sealed class PreviousQueriesTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("rotationstudy-queries-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData("query-list.csv")]
    [InlineData("query-list.xlsx")]
    public void A_query_is_new_then_open_then_changed_then_answered_then_gone(string kept)
    {
        Assert.Equal(["new", "new"], Statuses(Next(PreviousQueries.None, "98", "97"), kept));
        Assert.Equal(["open", "open"], Statuses(Next(Kept(kept), "98", "97"), kept));
        Assert.Equal(["changed", "open"], Statuses(Next(Kept(kept), "96", "97"), kept));
        ImmutableArray<Query> answered = Next(Kept(kept), "3", "97");
        Assert.Equal(["open", "answered"], Statuses(answered, kept));
        Assert.Equal("96", answered[1].Value);
        Assert.Null(answered[1].Line);
        Assert.Equal(["open"], Statuses(Next(Kept(kept), "3", "97"), kept));
        Assert.Equal(["new", "open"], Statuses(Next(Kept(kept), "98", "97"), kept));
    }

    [Fact]
    public void Rows_that_move_change_no_status()
    {
        using TestExport export = TestExport.Clean().AddRow("events.csv", "A-001,L,1,200,dislocation,none").Set("outcomes.csv", 2, "pain_0_10", "98");
        Save(QueryList.Of(export.Check().Findings, PreviousQueries.None));
        export.Lines("outcomes.csv").Reverse(1, export.Lines("outcomes.csv").Count - 1);
        export.Lines("events.csv").Reverse(1, export.Lines("events.csv").Count - 1);
        Assert.All(QueryList.Of(export.Check().Findings, Kept("query-list.csv")), q => Assert.Equal(QueryStatus.Open, q.Status));
    }

    [Fact]
    public void A_value_that_a_spreadsheet_would_run_is_recognised_again()
    {
        using TestExport export = TestExport.Clean().Set("outcomes.csv", 2, "pain_0_10", "=1+1");
        Save(QueryList.Of(export.Check().Findings, PreviousQueries.None));
        Assert.Equal(QueryStatus.Open, Assert.Single(QueryList.Of(export.Check().Findings, Kept("query-list.csv"))).Status);
        Assert.Equal(QueryStatus.Open, Assert.Single(QueryList.Of(export.Check().Findings, Kept("query-list.xlsx"))).Status);
    }

    [Fact]
    public void Answered_queries_of_those_who_withdrew_are_forgotten()
    {
        Save(Next(PreviousQueries.None, "98", "97"));
        ImmutableArray<Query> queries = QueryList.Of([], PreviousQueries.Read(Path.Combine(folder, "query-list.csv"), WithdrawnIds.Of("A-001")));
        Assert.DoesNotContain("A-001", string.Join('\n', queries), StringComparison.Ordinal);
        Assert.Equal("C-001", Assert.Single(queries).Participant);
    }

    [Fact]
    public void Each_site_gets_its_own_list_and_nobody_else_s()
    {
        ImmutableArray<Query> queries = Next(PreviousQueries.None, "98", "97");
        Dictionary<string, byte[]> files = QueryList.Files(queries, ["A", "B", "C"]).ToDictionary(f => f.Name, f => f.Content);
        Assert.Equal(
            ["queries/A.csv", "queries/A.xlsx", "queries/B.csv", "queries/B.xlsx", "queries/C.csv", "queries/C.xlsx", "queries/no-site.csv", "queries/no-site.xlsx", "query-list.csv", "query-list.xlsx"],
            files.Keys.Order(StringComparer.Ordinal));
        string ofA = System.Text.Encoding.UTF8.GetString(files["queries/A.csv"]);
        Assert.Contains("A-001", ofA, StringComparison.Ordinal);
        Assert.DoesNotContain("C-001", ofA, StringComparison.Ordinal);
        Assert.Single(System.Text.Encoding.UTF8.GetString(files["queries/B.csv"]).TrimEnd().Split('\n'));
    }

    [Theory]
    [InlineData("a,b\n1,2\n", "has no column 'query'")]
    [InlineData("query,site,severity,rule,file,line,column,participant,value,expected,message,status\nx,,,,,,,,,,,waiting\n", "status")]
    [InlineData("\"query", "cannot be read")]
    public void Another_file_is_refused_in_words(string content, string words)
    {
        string path = Path.Combine(folder, "other.csv");
        File.WriteAllText(path, content);
        UnreadableQueryList error = Assert.Throws<UnreadableQueryList>(() => PreviousQueries.Read(path, WithdrawnIds.None));
        Assert.Contains(words, error.Message, StringComparison.Ordinal);
        Assert.Contains("other.csv", error.Message, StringComparison.Ordinal);
    }

    private PreviousQueries Kept(string file) => PreviousQueries.Read(Path.Combine(folder, file), WithdrawnIds.None);

    /// <summary>The queries of an export with two values of pain, of one participant of site A and one of site C.</summary>
    private static ImmutableArray<Query> Next(PreviousQueries previous, string first, string second)
    {
        using TestExport export = TestExport.Clean().Set("outcomes.csv", 2, "pain_0_10", first).Set("outcomes.csv", 9, "pain_0_10", second);
        return QueryList.Of(export.Check().Findings, previous);
    }

    /// <summary>Keeps a list in both forms and tells the statuses it says.</summary>
    private string[] Statuses(ImmutableArray<Query> queries, string kept)
    {
        Save(queries);
        Assert.True(File.Exists(Path.Combine(folder, kept)));
        return [.. queries.Select(q => q.Status.ToString().ToLowerInvariant())];
    }

    private void Save(ImmutableArray<Query> queries)
    {
        foreach ((string name, byte[] content) in QueryList.Files(queries, []).Where(f => !f.Name.Contains('/')))
            File.WriteAllBytes(Path.Combine(folder, name), content);
    }
}
