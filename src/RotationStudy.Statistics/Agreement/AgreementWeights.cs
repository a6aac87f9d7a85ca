namespace RotationStudy.Statistics.Agreement;

/// <summary>How much two categories count as agreeing: 1 on the diagonal, 0 for the furthest apart. Agreement weights throughout.</summary>
public sealed class AgreementWeights
{
    private readonly double[] values;

    private AgreementWeights(double[] values, int categories, string name)
    {
        this.values = values;
        Categories = categories;
        Name = name;
    }

    /// <summary>Number of categories.</summary>
    public int Categories { get; }

    /// <summary>What they are called, such as "linear".</summary>
    public string Name { get; }

    /// <summary>Weight of a pair of categories, from 0.</summary>
    public double this[int first, int second] => values[(first * Categories) + second];

    /// <summary>1 on the diagonal, 0 elsewhere: categories without order.</summary>
    public static AgreementWeights Identity(int categories) => Build(categories, "identity", (i, j) => i == j ? 1 : 0);

    /// <summary>1 - |i-j|/(k-1).</summary>
    public static AgreementWeights Linear(int categories) => Build(categories, "linear", (i, j) => 1 - (Math.Abs(i - j) / (categories - 1.0)));

    /// <summary>1 - (i-j)^2/(k-1)^2.</summary>
    public static AgreementWeights Quadratic(int categories) => Build(categories, "quadratic", (i, j) => 1 - ((i - j) * (i - j) / ((categories - 1.0) * (categories - 1.0))));

    /// <summary>Given weights of agreement; the diagonal is 1 and the matrix symmetric.</summary>
    /// <param name="weights">Row by row, k squared values between 0 and 1.</param>
    /// <exception cref="InvalidInputError">Not square, not symmetric, a diagonal other than 1, a weight outside 0 to 1.</exception>
    public static AgreementWeights Custom(IReadOnlyList<double> weights)
    {
        int k = (int)Math.Round(Math.Sqrt(weights.Count));
        if (k * k != weights.Count)
            throw new InvalidInputError($"{weights.Count} weights do not fill a square", "Give k times k weights, row by row.");
        return Build(k, "custom", (i, j) => Checked(weights, k, i, j));
    }

    /// <summary>Given weights of disagreement, as Cohen (1968) writes them: 0 on the diagonal, any unit; agreement is 1 - v / largest v.</summary>
    /// <exception cref="InvalidInputError">Not square, not symmetric, a diagonal other than 0, a negative weight, all zero.</exception>
    public static AgreementWeights FromDisagreement(IReadOnlyList<double> disagreement)
    {
        double largest = disagreement.Count == 0 ? 0 : disagreement.Max();
        if (!(largest > 0) || !double.IsFinite(largest))
            throw new InvalidInputError("the weights of disagreement hold none above zero", "Give 0 on the diagonal and positive numbers elsewhere.");
        return Custom([.. disagreement.Select(v => 1 - (v / largest))]);
    }

    private static double Checked(IReadOnlyList<double> weights, int k, int i, int j)
    {
        double w = weights[(i * k) + j];
        if (i == j && w != 1)
            throw new InvalidInputError($"the weight of category {i} with itself is {w}, not full agreement", "Agreement weights have 1 on the diagonal; for weights of disagreement use FromDisagreement.");
        if (!(w >= 0 && w <= 1) || w != weights[(j * k) + i])
            throw new InvalidInputError($"the weight {w} of categories {i} and {j} is outside 0 to 1 or not symmetric", "Give a symmetric matrix of agreement.");
        return w;
    }

    private static AgreementWeights Build(int categories, string name, Func<int, int, double> weight)
    {
        if (categories < 2)
            throw new TooFewDataError($"{categories} category leaves nothing to disagree on", "Give two categories at the very least.");
        double[] values = new double[categories * categories];
        for (int i = 0; i < categories; i++)
        {
            for (int j = 0; j < categories; j++)
                values[(i * categories) + j] = weight(i, j);
        }
        return new AgreementWeights(values, categories, name);
    }
}
