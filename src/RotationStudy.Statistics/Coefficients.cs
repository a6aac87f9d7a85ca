using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics;

/// <summary>The coefficients of a fitted regression with their covariance: what intervals and tests are made from.</summary>
public sealed class Coefficients
{
    private readonly double[] values;
    private readonly double[] degreesOfFreedom;

    /// <summary>Joins estimates, covariance and degrees of freedom.</summary>
    /// <param name="values">Estimates, length p.</param>
    /// <param name="covariance">Their covariance, p by p; its names are the terms.</param>
    /// <param name="varianceMethod">How the covariance was reached, in the words of the field, such as "cluster-robust, CR2".</param>
    /// <param name="degreesOfFreedom">One value per coefficient; null for the normal reference.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree.</exception>
    public Coefficients(ReadOnlySpan<double> values, SymmetricMatrix covariance, string varianceMethod, IReadOnlyList<double>? degreesOfFreedom = null)
    {
        Require.SameLength(values.Length, covariance.Size, "coefficients");
        this.values = values.ToArray();
        Covariance = covariance;
        VarianceMethod = varianceMethod;
        this.degreesOfFreedom = new double[values.Length];
        Array.Fill(this.degreesOfFreedom, double.PositiveInfinity);
        if (degreesOfFreedom is not null)
        {
            Require.SameLength(degreesOfFreedom.Count, values.Length, "degrees of freedom");
            for (int i = 0; i < values.Length; i++)
                this.degreesOfFreedom[i] = degreesOfFreedom[i];
        }
    }

    /// <summary>Names of the coefficients.</summary>
    public IReadOnlyList<string> Terms => Covariance.Names;

    /// <summary>Estimates, in the order of <see cref="Terms"/>.</summary>
    public IReadOnlyList<double> Values => values;

    /// <summary>Covariance of the estimates.</summary>
    public SymmetricMatrix Covariance { get; }

    /// <summary>Degrees of freedom per coefficient; infinite for the normal reference.</summary>
    public IReadOnlyList<double> DegreesOfFreedom => degreesOfFreedom;

    /// <summary>How the covariance was reached, in the words of the field.</summary>
    public string VarianceMethod { get; }

    /// <summary>About how far each cluster left out would move each coefficient; null where the variance has no clusters.</summary>
    public LeaveOutShifts? LeaveOut { get; internal init; }

    /// <summary>Standard error of one coefficient.</summary>
    public double StandardError(int term) => Math.Sqrt(Covariance[term, term]);

    /// <summary>One coefficient with interval and p value, on the scale of the model.</summary>
    public Estimate Estimate(int term, double level = ConfidenceInterval.DefaultLevel)
        => Statistics.Estimate.Wald(Terms[term], values[term], StandardError(term), degreesOfFreedom[term], level);

    /// <summary>One coefficient by name.</summary>
    /// <exception cref="InvalidInputError">No coefficient has that name.</exception>
    public Estimate Estimate(string term, double level = ConfidenceInterval.DefaultLevel) => Estimate(IndexOf(term), level);

    /// <summary>The position of a named coefficient.</summary>
    /// <exception cref="InvalidInputError">No coefficient has that name.</exception>
    public int IndexOf(string term)
    {
        for (int i = 0; i < Terms.Count; i++)
        {
            if (Terms[i] == term)
                return i;
        }
        throw new InvalidInputError($"no coefficient is called '{term}'", $"The model has {string.Join(", ", Terms)}.", column: term);
    }

    /// <summary>A linear combination c'b with its interval; c has length p.</summary>
    /// <remarks>Degrees of freedom: the smallest among the coefficients that enter, a cautious choice.</remarks>
    public Estimate Combination(string term, ReadOnlySpan<double> weights, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.SameLength(weights.Length, values.Length, "weights");
        double value = 0;
        double df = double.PositiveInfinity;
        for (int i = 0; i < values.Length; i++)
        {
            value += weights[i] * values[i];
            if (weights[i] != 0)
                df = Math.Min(df, degreesOfFreedom[i]);
        }
        double se = Math.Sqrt(Math.Max(0, Covariance.Quadratic(weights, weights)));
        return Statistics.Estimate.Wald(term, value, se, df, level);
    }

    /// <summary>Wald chi-square test that all named coefficients are zero: b' V^-1 b on as many degrees of freedom.</summary>
    /// <exception cref="RankDeficientError">The covariance of the named coefficients is singular.</exception>
    public TestResult WaldTest(params IReadOnlyList<string> terms)
    {
        int q = terms.Count;
        double[] b = new double[q];
        double[] v = new double[q * q];
        for (int i = 0; i < q; i++)
        {
            int a = IndexOf(terms[i]);
            b[i] = values[a];
            for (int j = 0; j < q; j++)
                v[(i * q) + j] = Covariance[a, IndexOf(terms[j])];
        }
        double[] solved = SmallCholesky.Factor(v, q, terms).Solve(b);
        double statistic = 0;
        for (int i = 0; i < q; i++)
            statistic += b[i] * solved[i];
        return new TestResult("Wald chi-square", statistic, q, double.PositiveInfinity, ChiSquared.UpperTail(statistic, q));
    }
}
