using CsCheck;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Results;

public sealed class SmallCellsTests
{
    [Fact]
    public void A_single_small_count_takes_its_neighbours_in_row_and_column_along()
    {
        // Worked by hand. 3 is small. Its row (3, 40, 43) would give it away, and so would its column (3, 30, 20): the smallest
        // other counts, 40 and 20, go too; then 40's column and 20's row have one hidden cell each and meet in 25.
        int[,] people = { { 3, 40, 43 }, { 30, 50, 80 }, { 20, 25, 45 } };
        Assert.Equal(new[,] { { true, true, false }, { false, false, false }, { true, true, false } }, SmallCells.Hide(people, 5));
    }

    [Fact]
    public void Nothing_is_hidden_without_a_small_count_and_none_is_small_at_one()
    {
        Assert.DoesNotContain(true, SmallCells.Hide(new[,] { { 0, 9, 9 }, { 7, 8, 15 } }, 5).Cast<bool>());
        Assert.DoesNotContain(true, SmallCells.Hide(new[,] { { 1, 2, 3 } }, 1).Cast<bool>());
    }

    [Fact]
    public void In_one_column_two_cells_are_hidden_at_least()
    {
        Assert.Equal(new[,] { { true }, { true }, { false } }, SmallCells.Hide(new[,] { { 2 }, { 9 }, { 30 } }, 5));
    }

    [Fact]
    public void No_line_ever_has_exactly_one_hidden_cell_and_every_small_count_is_hidden()
        => Gen.Select(Gen.Int[1, 5], Gen.Int[2, 4], Gen.Int[0, 12].Array[30]).Sample((rows, groups, counts) =>
        {
            int[,] people = new int[rows, groups + 1];
            for (int r = 0; r < rows; r++)
            {
                for (int c = 0; c < groups; c++)
                {
                    people[r, c] = counts[(r * groups) + c];
                    people[r, groups] += people[r, c];
                }
            }
            bool[,] hidden = SmallCells.Hide(people, 5);
            for (int r = 0; r < rows; r++)
            {
                Assert.NotEqual(1, Enumerable.Range(0, groups + 1).Count(c => hidden[r, c]));
                for (int c = 0; c <= groups; c++)
                    Assert.True(hidden[r, c] || people[r, c] is 0 or >= 5);
            }
            for (int c = 0; c <= groups && rows > 1; c++)
                Assert.NotEqual(1, Enumerable.Range(0, rows).Count(r => hidden[r, c]));
        }, iter: 500);
}
