namespace RotationStudy.Statistics.Regression;

/// <summary>An ordered outcome checked at the door: the categories that occur and the rows sorted by them.</summary>
internal sealed record OrderedOutcome(IReadOnlyList<string> Categories, IReadOnlyList<string> EmptyCategories, int[] Order, int[] Start)
{
    /// <summary>Checks lengths and codes, leaves out rows of weight zero and categories without rows.</summary>
    /// <exception cref="InvalidInputError">An intercept, a category without label, a negative weight, lengths that do not agree.</exception>
    /// <exception cref="TooFewDataError">Fewer than two categories occur, or fewer rows than coefficients.</exception>
    internal static OrderedOutcome Check(DesignMatrix x, ReadOnlySpan<int> categories, IReadOnlyList<string> labels, ReadOnlySpan<double> weights)
    {
        if (x.IndexOf(DesignMatrix.InterceptName) >= 0)
            throw new InvalidInputError("the design has an intercept, which the thresholds take up", "Build it from columns only.", column: DesignMatrix.InterceptName);
        Require.SameLength(categories.Length, x.Rows, "categories");
        if (!weights.IsEmpty)
        {
            Require.SameLength(weights.Length, x.Rows, "weights");
            Require.Finite(weights, "weights");
            Require.AtLeast(weights, 0, "weights");
        }
        List<int>[] rows = [.. labels.Select(_ => new List<int>())];
        for (int i = 0; i < categories.Length; i++)
        {
            if (categories[i] < 0 || categories[i] >= labels.Count)
                throw new InvalidInputError($"'categories' holds {categories[i]} in row {i}, and there are {labels.Count} labels", "Give positions from 0.", i, "categories");
            if (weights.IsEmpty || weights[i] > 0)
                rows[categories[i]].Add(i);
        }
        int[] present = [.. Enumerable.Range(0, labels.Count).Where(k => rows[k].Count > 0)];
        if (present.Length < 2)
            throw new TooFewDataError($"{present.Length} category occurs", "An ordered outcome needs two categories with rows.");
        int[] start = new int[present.Length + 1];
        for (int k = 0; k < present.Length; k++)
            start[k + 1] = start[k] + rows[present[k]].Count;
        if (start[^1] < x.Columns + present.Length - 1)
            throw new TooFewDataError($"{start[^1]} rows cannot carry {x.Columns + present.Length - 1} coefficients", "Use fewer columns or join categories.");
        return new OrderedOutcome(
            [.. present.Select(k => labels[k])],
            [.. Enumerable.Range(0, labels.Count).Where(k => rows[k].Count == 0).Select(k => labels[k])],
            [.. present.SelectMany(k => rows[k])],
            start);
    }

    /// <summary>Case weights in the sorted order, or none.</summary>
    internal double[] SortedWeights(ReadOnlySpan<double> weights)
    {
        if (weights.IsEmpty)
            return [];
        double[] sorted = new double[Order.Length];
        for (int i = 0; i < sorted.Length; i++)
            sorted[i] = weights[Order[i]];
        return sorted;
    }
}
