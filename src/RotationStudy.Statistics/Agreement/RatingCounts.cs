namespace RotationStudy.Statistics.Agreement;

/// <summary>How many raters put each subject into each category; numbers of raters may differ between subjects.</summary>
public sealed class RatingCounts
{
    private readonly double[] counts;
    private readonly double[] raters;

    private RatingCounts(double[] counts, double[] raters, int categories)
    {
        this.counts = counts;
        this.raters = raters;
        Categories = categories;
    }

    /// <summary>Number of categories.</summary>
    public int Categories { get; }

    /// <summary>Number of subjects, each rated at least once.</summary>
    public int Subjects => raters.Length;

    /// <summary>Number of subjects rated twice or more.</summary>
    public int RatedTwice => raters.Count(r => r >= 2);

    /// <summary>Raters of one subject.</summary>
    public double Raters(int subject) => raters[subject];

    /// <summary>Raters who put a subject into a category.</summary>
    public double this[int subject, int category] => counts[(subject * Categories) + category];

    /// <summary>Takes counts, one list of categories per subject.</summary>
    /// <exception cref="TooFewDataError">Fewer than two subjects, or none rated twice.</exception>
    /// <exception cref="InvalidInputError">A subject without ratings, unequal numbers of categories, a negative count.</exception>
    public static RatingCounts FromCounts(IReadOnlyList<IReadOnlyList<int>> subjects)
    {
        if (subjects.Count < 2)
            throw new TooFewDataError($"{subjects.Count} subject is too few", "Give two subjects at the very least.");
        int k = subjects[0].Count;
        if (k < 2)
            throw new TooFewDataError($"{k} category leaves nothing to disagree on", "Give two categories at the very least.");
        double[] counts = new double[subjects.Count * k];
        double[] raters = new double[subjects.Count];
        for (int i = 0; i < raters.Length; i++)
        {
            Require.SameLength(subjects[i].Count, k, $"subject {i}");
            for (int c = 0; c < k; c++)
            {
                counts[(i * k) + c] = subjects[i][c];
                raters[i] += subjects[i][c];
            }
            if (raters[i] == 0)
                throw new InvalidInputError($"subject {i} has no rating", "Leave it out.", i);
        }
        Require.AtLeast(counts, 0, "counts");
        RatingCounts result = new(counts, raters, k);
        return result.RatedTwice > 0 ? result : throw new TooFewDataError("no subject was rated twice", "Agreement needs two ratings of some subjects.");
    }

    /// <summary>Takes categories from 0, one list per rater; null where a rater did not rate a subject. Subjects nobody rated are left out.</summary>
    public static RatingCounts FromRaters(int categories, params IReadOnlyList<IReadOnlyList<int?>> raters)
    {
        int n = raters.Count == 0 ? 0 : raters[0].Count;
        List<int[]> subjects = [];
        for (int i = 0; i < n; i++)
        {
            int[] count = new int[categories];
            foreach (IReadOnlyList<int?> rater in raters)
            {
                Require.SameLength(rater.Count, n, "rater");
                if (rater[i] is not int c)
                    continue;
                if (c < 0 || c >= categories)
                    throw new InvalidInputError($"category {c} in row {i} is outside 0 to {categories - 1}", "Code categories from 0 in their order.", i);
                count[c]++;
            }
            if (count.Sum() > 0)
                subjects.Add(count);
        }
        return FromCounts(subjects);
    }

    /// <summary>Share of each category: the mean over subjects of the share of raters.</summary>
    internal double[] Shares()
    {
        double[] shares = new double[Categories];
        for (int i = 0; i < Subjects; i++)
        {
            for (int c = 0; c < Categories; c++)
                shares[c] += this[i, c] / raters[i] / Subjects;
        }
        return shares;
    }

    /// <summary>Weighted agreement among the pairs of raters of one subject rated twice or more.</summary>
    internal double Agreement(int subject, AgreementWeights weights)
    {
        double sum = 0;
        for (int a = 0; a < Categories; a++)
        {
            if (this[subject, a] == 0)
                continue;
            double near = 0;
            for (int b = 0; b < Categories; b++)
                near += weights[a, b] * this[subject, b];
            sum += this[subject, a] * (near - 1);
        }
        return sum / (raters[subject] * (raters[subject] - 1));
    }
}
