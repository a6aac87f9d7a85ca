using System.Text.Json;
using RotationStudy.Statistics.GroupComparison;

namespace RotationStudy.Statistics.Tests.GroupComparison;

public class FisherExactTests
{
    /// <summary>Job satisfaction by income (Agresti 2002), columns as printed.</summary>
    internal static readonly ContingencyTable Job = new(4, 4, 1, 3, 10, 6, 2, 3, 10, 7, 1, 6, 14, 12, 0, 1, 9, 11);

    [Theory]
    [InlineData("twins", 2, 10, 15, 3)]
    [InlineData("tea", 3, 1, 1, 3)]
    [InlineData("edge", 0, 7, 5, 4)]
    [InlineData("big", 310, 205, 240, 330)]
    public void Two_by_two_tables_are_those_of_the_reference_libraries(string id, int a, int b, int c, int d)
    {
        using JsonDocument odds = JsonDocument.Parse(File.ReadAllText(RepositoryFiles.ReferenceData("GroupComparison/classics/expected_odds.json")));
        FisherExact found = FisherExact.Of(a, b, c, d);
        Close.Relative(Classics.Reference.Number($"{id}/p"), found.PValue, 1e-9, "p");
        Close.Relative(Classics.Reference.Number($"{id}/greater"), found.Greater, 1e-10, "greater");
        Close.Relative(odds.RootElement.GetProperty(id).GetProperty("odds").GetDouble(), found.OddsRatio, 1e-8, "odds ratio");
        Close.Relative(odds.RootElement.GetProperty(id).GetProperty("lower").GetDouble(), found.Interval.Lower, 1e-8, "lower");
        Close.Relative(odds.RootElement.GetProperty(id).GetProperty("upper").GetDouble(), found.Interval.Upper, 1e-8, "upper");
    }

    [Fact]
    public void The_lady_tasting_tea_has_a_chance_of_seventeen_in_seventy()
    {
        // Fisher 1935: of 70 choices 1 is right in all four cups and 16 in three.
        Close.Relative(17.0 / 70, FisherExact.Of(3, 1, 1, 3).Greater, 1e-13);
        Close.Relative(34.0 / 70, FisherExact.Of(3, 1, 1, 3).PValue, 1e-13);
    }

    [Fact]
    public void Job_satisfaction_and_the_sixth_table_of_Mehta_and_Patel_1983()
    {
        FisherExactTable job = FisherExactTable.Of(Job, seed: 1);
        Assert.True(job.Exact);
        Close.Relative(Classics.Reference.Number("job"), job.PValue, 1e-7);
        int[] counts = [.. Classics.Reference.Element("six/counts").EnumerateArray().Select(e => e.GetInt32())];
        FisherExactTable six = FisherExactTable.Of(new ContingencyTable(5, 7, counts), seed: 1);
        Assert.True(six.Exact);
        Close.Relative(Classics.Reference.Number("six/p"), six.PValue, 1e-7);
        Close.Printed(0.0393, six.PValue, 4);
    }

    [Fact]
    public void A_two_by_two_table_is_the_same_by_either_way_and_a_turned_table_is_the_same()
    {
        Close.Relative(FisherExact.Of(2, 10, 15, 3).PValue, FisherExactTable.Of(new ContingencyTable(2, 2, 2, 10, 15, 3), 1).PValue, 1e-9);
        ContingencyTable wide = new(2, 4, 5, 0, 2, 8, 1, 6, 3, 3);
        ContingencyTable tall = new(4, 2, 5, 1, 0, 6, 2, 3, 8, 3);
        Close.Relative(FisherExactTable.Of(wide, 1).PValue, FisherExactTable.Of(tall, 1).PValue, 1e-12);
    }

    [Fact]
    public void Every_table_listed_one_by_one_gives_the_same_p_value()
    {
        // Rows 4, 5, 6 by columns 6, 5, 4, all tables enumerated.
        int[,] seen = { { 3, 1, 0 }, { 2, 2, 1 }, { 1, 2, 3 } };
        double log = LogWeight(seen);
        double all = 0;
        double asImprobable = 0;
        for (int a = 0; a <= 4; a++)
        {
            for (int b = 0; b <= 4 - a; b++)
            {
                for (int c = 0; c <= 5; c++)
                {
                    for (int d = 0; d <= 5 - c; d++)
                    {
                        int[,] t = { { a, b, 4 - a - b }, { c, d, 5 - c - d }, { 6 - a - c, 5 - b - d, a + b + c + d - 5 } };
                        if (t.Cast<int>().Any(v => v < 0))
                            continue;
                        all += Math.Exp(LogWeight(t));
                        asImprobable += LogWeight(t) <= log + 1e-7 ? Math.Exp(LogWeight(t)) : 0;
                    }
                }
            }
        }
        Close.Relative(asImprobable / all, FisherExactTable.Of(new ContingencyTable(3, 3, 3, 1, 0, 2, 2, 1, 1, 2, 3), 1).PValue, 1e-9);
    }

    [Fact]
    public void Beyond_the_work_limit_the_p_value_is_Monte_Carlo_with_its_error_and_the_same_for_the_same_seed()
    {
        FisherExactTable first = FisherExactTable.Of(Job, seed: 7, draws: 20_000, workLimit: 10);
        FisherExactTable again = FisherExactTable.Of(Job, seed: 7, draws: 20_000, workLimit: 10);
        Assert.False(first.Exact);
        Assert.Equal(first, again);
        Assert.True(Math.Abs(first.PValue - Classics.Reference.Number("job")) < 4 * first.MonteCarloError);
    }

    [Fact]
    public void A_large_table_is_answered_in_time()
    {
        Random random = new(2);
        FisherExactTable found = FisherExactTable.Of(new ContingencyTable(6, 5, [.. Enumerable.Range(0, 30).Select(_ => 20 + random.Next(30))]), seed: 3, draws: 1000);
        Assert.False(found.Exact);
        Assert.InRange(found.PValue, 1.0 / 1001, 1);
    }

    [Fact]
    public void A_margin_of_zero_and_a_negative_count_are_refused()
    {
        Assert.Throws<TooFewDataError>(() => FisherExact.Of(0, 0, 3, 4));
        Assert.Throws<InvalidInputError>(() => FisherExact.Of(-1, 2, 3, 4));
    }

    private static double LogWeight(int[,] table)
    {
        double log = 0;
        foreach (int count in table)
        {
            for (int k = 2; k <= count; k++)
                log -= Math.Log(k);
        }
        return log;
    }
}
