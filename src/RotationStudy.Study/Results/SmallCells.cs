namespace RotationStudy.Study.Results;

/// <summary>Which cells of a table of people must not be printed, so that no small count can be read or worked out from sums.</summary>
/// <remarks>
/// <para>Columns are groups, the last one their sum; rows are categories that together make up a group, whose size is known.
/// First every count from 1 to one below the smallest printed count is hidden. Then, while a row or a column has exactly
/// one hidden cell, which its sum would give away, its smallest other count above 0 is hidden as well (0 where nothing
/// else is left). Each step hides one more cell, so it ends.</para>
/// <para>This keeps a count from being worked out from one sum. It is no defence against the whole system of sums, which
/// may still bound a count from both sides, nor against other tables of the same people.</para>
/// <para>Source: Cox LH. Suppression methodology and statistical disclosure control. J Am Stat Assoc 1980;75:377-385;
/// Hundepool A and others. Statistical disclosure control. Wiley 2012, chapter 4 (both recalled, not re-read).</para>
/// </remarks>
public static class SmallCells
{
    /// <summary>The cells to hide.</summary>
    /// <param name="people">Counts of people, categories by groups, the last column the sum over groups; one column alone is a sum.</param>
    /// <param name="smallest">Smallest count that is printed; 1 hides nothing.</param>
    public static bool[,] Hide(int[,] people, int smallest)
    {
        int rows = people.GetLength(0), columns = people.GetLength(1);
        bool[,] hidden = new bool[rows, columns];
        for (int r = 0; r < rows; r++)
        {
            for (int c = 0; c < columns; c++)
                hidden[r, c] = people[r, c] > 0 && people[r, c] < smallest;
        }
        bool again = true;
        while (again)
        {
            again = false;
            for (int c = 0; c < columns; c++)
                again |= Complete(people, hidden, [.. Enumerable.Range(0, rows).Select(r => (r, c))]);
            for (int r = 0; r < rows && columns > 1; r++)
                again |= Complete(people, hidden, [.. Enumerable.Range(0, columns).Select(c => (r, c))]);
        }
        return hidden;
    }

    /// <summary>Hides a second cell of a line with exactly one; whether it did.</summary>
    private static bool Complete(int[,] people, bool[,] hidden, (int Row, int Column)[] line)
    {
        if (line.Count(at => hidden[at.Row, at.Column]) != 1)
            return false;
        (int Row, int Column)[] open = [.. line.Where(at => !hidden[at.Row, at.Column]).OrderBy(at => people[at.Row, at.Column] == 0).ThenBy(at => people[at.Row, at.Column])];
        if (open.Length == 0)
            return false;
        hidden[open[0].Row, open[0].Column] = true;
        return true;
    }
}
