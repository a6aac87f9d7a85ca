using RotationStudy.Statistics.Sharing;

namespace RotationStudy.Statistics.Tests.Sharing;

public class SmallGroupsTests
{
    [Fact]
    public void A_rare_combination_of_two_columns_is_found_and_named()
    {
        // Ten persons of one row: five with a, five with b, one with both.
        DesignMatrix x = DesignMatrix.WithIntercept(("a", [1, 1, 1, 1, 1, 0, 0, 0, 0, 0.0]), ("b", [0, 0, 0, 0, 1, 1, 1, 1, 1, 0.0]));
        SmallGroup? found = SmallGroups.Find(x, [], Clusters.EachRow(10), 4);
        Assert.Equal(new SmallGroup(1, "a no, b no"), found);
        Assert.Null(SmallGroups.Find(x.SelectColumns([0, 1]), [], Clusters.EachRow(10), 5));
    }

    [Fact]
    public void Events_of_a_group_count_and_so_do_clusters_rather_than_rows()
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("a", [1, 1, 1, 1, 0, 0, 0, 0.0]));
        double[] outcome = [2, 0, 0, 0, 1, 1, 0, 0];
        Assert.Equal("a no, the outcome no", SmallGroups.Find(x, outcome, Clusters.From([0, 0, 1, 1, 2, 2, 3, 3]), 2)!.What);
        Assert.Null(SmallGroups.Find(x, [], Clusters.From([0, 0, 1, 1, 2, 2, 3, 3]), 2));
        Assert.Equal(2, SmallGroups.Find(x, [], Clusters.From([0, 0, 1, 1, 2, 2, 3, 3]), 3)!.Clusters);
    }

    [Fact]
    public void Too_few_persons_at_all_are_found_first()
        => Assert.Equal("all rows", SmallGroups.Find(DesignMatrix.InterceptOnly(3), [], Clusters.EachRow(3), 5)!.What);

    [Fact]
    public void Columns_of_more_than_two_values_are_mixed_by_their_sums()
        => Assert.Null(SmallGroups.Find(DesignMatrix.WithIntercept(("x", [1, 2, 3, 4, 5, 6.0])), [], Clusters.EachRow(6), 5));
}
