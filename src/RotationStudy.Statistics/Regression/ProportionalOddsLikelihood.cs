using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>The likelihood of the proportional-odds model with its exact derivatives.</summary>
/// <remarks>
/// For a row in category k with a = t_k - x'b and c = t_(k-1) - x'b, log(F(a) - F(c)) = log F(a) + log(1 - F(c)) + log(1 - exp(t_(k-1) - t_k)): the last part
/// holds no row, so that the information of the coefficients is X'(w_a + w_c)X with logistic weights w, that of the thresholds is tridiagonal, and nothing
/// cancels. Rows are sorted by category once, so that all sums run along contiguous memory.
/// </remarks>
internal sealed class ProportionalOddsLikelihood : ILogLikelihood
{
    private readonly DesignMatrix x;
    private readonly double[] weights;
    private readonly int[] categoryStart;
    private readonly double[] categoryWeight;
    private readonly int cuts;
    private readonly int p;
    private readonly double[] eta;
    private readonly double[] upperScore;
    private readonly double[] lowerScore;
    private readonly double[] upperWeight;
    private readonly double[] lowerWeight;
    private readonly double[] scratch;
    private double[] parameters = [];

    /// <param name="sorted">Design with rows in order of their category.</param>
    /// <param name="weights">Case weights in the same order, or none.</param>
    /// <param name="categoryStart">First row of each category, and n at the end.</param>
    /// <param name="names">Names of the thresholds, then of the columns.</param>
    internal ProportionalOddsLikelihood(DesignMatrix sorted, double[] weights, int[] categoryStart, IReadOnlyList<string> names)
    {
        x = sorted;
        this.weights = weights;
        this.categoryStart = categoryStart;
        Names = names;
        p = sorted.Columns;
        cuts = categoryStart.Length - 2;
        categoryWeight = new double[cuts + 1];
        for (int k = 0; k <= cuts; k++)
        {
            for (int i = categoryStart[k]; i < categoryStart[k + 1]; i++)
                categoryWeight[k] += weights.Length == 0 ? 1 : weights[i];
        }
        eta = new double[sorted.Rows];
        upperScore = new double[sorted.Rows];
        lowerScore = new double[sorted.Rows];
        upperWeight = new double[sorted.Rows];
        lowerWeight = new double[sorted.Rows];
        scratch = new double[sorted.Rows];
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> Names { get; }

    /// <summary>Weighted number of rows in each category.</summary>
    internal IReadOnlyList<double> CategoryWeights => categoryWeight;

    /// <summary>Thresholds at the cumulative shares and no effects: the maximum without effects.</summary>
    internal double[] Start()
    {
        double[] start = new double[cuts + p];
        double total = categoryWeight.Sum();
        double below = 0;
        for (int k = 0; k < cuts; k++)
        {
            below += categoryWeight[k];
            start[k] = Math.Log(below / (total - below));
        }
        return start;
    }

    /// <inheritdoc/>
    public double Evaluate(ReadOnlySpan<double> b)
    {
        parameters = b.ToArray();
        double total = 0;
        for (int k = 1; k < cuts; k++)
        {
            if (!(b[k] > b[k - 1]))
                return double.NegativeInfinity;
            total += categoryWeight[k] * StableMath.Log1mExp(b[k - 1] - b[k]);
        }
        CrossProduct.LinearPredictor(x, b[cuts..], [], eta);
        for (int k = 0; k <= cuts; k++)
        {
            double upper = k < cuts ? b[k] : double.PositiveInfinity;
            double lower = k > 0 ? b[k - 1] : double.NegativeInfinity;
            total += Category(categoryStart[k], categoryStart[k + 1], upper, lower);
        }
        return total;
    }

    /// <inheritdoc/>
    public void Differentiate(Span<double> gradient, Span<double> information)
    {
        int size = cuts + p;
        gradient.Clear();
        information.Clear();
        for (int k = 1; k < cuts; k++)
            AddGap(k, gradient, information);
        for (int k = 0; k < cuts; k++)
        {
            AddSegment(k, k, upperScore, upperWeight, 1, gradient, information);
            AddSegment(k, k + 1, lowerScore, lowerWeight, -1, gradient, information);
        }
        for (int i = 0; i < scratch.Length; i++)
            scratch[i] = lowerScore[i] - upperScore[i];
        CrossProduct.WithVector(x, scratch, gradient[cuts..]);
        for (int i = 0; i < scratch.Length; i++)
            scratch[i] = lowerWeight[i] + upperWeight[i];
        double[] block = new double[p * p];
        CrossProduct.Weighted(x, scratch, block);
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < p; j++)
                information[((cuts + i) * size) + cuts + j] = block[(i * p) + j];
            for (int k = 0; k < cuts; k++)
                information[((cuts + i) * size) + k] = information[(k * size) + cuts + i];
        }
    }

    /// <inheritdoc/>
    public void RequireFinite(double decrement)
    {
        // Every logistic weight bounds the third derivative of its own term: see the certificate of the generalized linear solver.
        double smallest = double.PositiveInfinity;
        for (int k = 0; k <= cuts; k++)
        {
            for (int i = categoryStart[k]; i < categoryStart[k + 1]; i++)
            {
                if (weights.Length > 0 && weights[i] == 0)
                    continue;
                smallest = Math.Min(smallest, k == 0 ? upperWeight[i] : k == cuts ? lowerWeight[i] : Math.Min(upperWeight[i], lowerWeight[i]));
            }
        }
        if (4 * Math.Abs(decrement) < smallest)
            return;
        (DesignMatrix stacked, double[] signs) = Stacked();
        IReadOnlyList<string> columns = new SeparationProgramme(stacked, signs).SeparatedColumns();
        if (columns.Count > 0)
        {
            throw new SeparationError(
                [.. columns.Where(c => x.IndexOf(c) >= 0).DefaultIfEmpty(columns[0])],
                "Join categories of the column or of the outcome, or use fewer columns.");
        }
    }

    /// <summary>Score of each (sorted) row where last evaluated, n by (thresholds + columns), column after column.</summary>
    internal double[] RowScores()
    {
        int n = x.Rows;
        double[] scores = new double[n * (cuts + p)];
        for (int k = 0; k <= cuts; k++)
        {
            for (int i = categoryStart[k]; i < categoryStart[k + 1]; i++)
            {
                double weight = weights.Length == 0 ? 1 : weights[i];
                double gap = k > 0 && k < cuts ? weight * GapSlope(k) : 0;
                if (k < cuts)
                    scores[(k * n) + i] += upperScore[i] + gap;
                if (k > 0)
                    scores[((k - 1) * n) + i] -= lowerScore[i] + gap;
                for (int j = 0; j < p; j++)
                    scores[((cuts + j) * n) + i] = x[i, j] * (lowerScore[i] - upperScore[i]);
            }
        }
        return scores;
    }

    // Scores are 1 - F(a) and F(c), weights F (1 - F) at each; zero where there is no threshold on that side.
    private double Category(int from, int to, double upper, double lower)
    {
        double total = 0;
        for (int i = from; i < to; i++)
        {
            double weight = weights.Length == 0 ? 1 : weights[i];
            double part = 0;
            upperScore[i] = upperWeight[i] = lowerScore[i] = lowerWeight[i] = 0;
            if (!double.IsInfinity(upper))
                part += default(LogisticFamily).LogLikelihood(1, upper - eta[i], out upperScore[i], out upperWeight[i]);
            if (!double.IsInfinity(lower))
            {
                part += default(LogisticFamily).LogLikelihood(0, lower - eta[i], out double falling, out lowerWeight[i]);
                lowerScore[i] = -falling;
            }
            if (weights.Length > 0)
            {
                upperScore[i] *= weight;
                upperWeight[i] *= weight;
                lowerScore[i] *= weight;
                lowerWeight[i] *= weight;
            }
            total += weight * part;
        }
        return total;
    }

    // d/dD log(1 - exp(-D)) at the gap D between the thresholds of an inner category.
    private double GapSlope(int category) => 1 / StableMath.Expm1(parameters[category] - parameters[category - 1]);

    private void AddGap(int k, Span<double> gradient, Span<double> information)
    {
        int size = cuts + p;
        double slope = GapSlope(k);
        double bend = categoryWeight[k] * slope * (1 + slope);
        gradient[k] += categoryWeight[k] * slope;
        gradient[k - 1] -= categoryWeight[k] * slope;
        information[(k * size) + k] += bend;
        information[((k - 1) * size) + k - 1] += bend;
        information[(k * size) + k - 1] -= bend;
        information[((k - 1) * size) + k] -= bend;
    }

    private void AddSegment(int cut, int category, double[] score, double[] weight, double sign, Span<double> gradient, Span<double> information)
    {
        int size = cuts + p;
        int from = categoryStart[category];
        int length = categoryStart[category + 1] - from;
        ReadOnlySpan<double> w = weight.AsSpan(from, length);
        for (int i = from; i < from + length; i++)
        {
            gradient[cut] += sign * score[i];
            information[(cut * size) + cut] += weight[i];
        }
        for (int j = 0; j < p; j++)
            information[(cut * size) + cuts + j] -= CrossProduct.Dot(x.Column(j).Slice(from, length), w);
    }

    // A direction in which every upper bound of a row rises or stays and every lower bound falls or stays.
    private (DesignMatrix Stacked, double[] Signs) Stacked()
    {
        List<int> rows = [];
        List<int> cutOf = [];
        List<double> signs = [];
        for (int k = 0; k <= cuts; k++)
        {
            for (int i = categoryStart[k]; i < categoryStart[k + 1]; i++)
            {
                if (weights.Length > 0 && weights[i] == 0)
                    continue;
                if (k < cuts)
                    Add(i, k, 1);
                if (k > 0)
                    Add(i, k - 1, -1);
            }
        }
        (string, IReadOnlyList<double>)[] columns = new (string, IReadOnlyList<double>)[cuts + p];
        for (int k = 0; k < cuts; k++)
            columns[k] = (Names[k], [.. cutOf.Select(c => c == k ? 1.0 : 0)]);
        for (int j = 0; j < p; j++)
            columns[cuts + j] = (Names[cuts + j], [.. rows.Select(i => -x[i, j])]);
        return (DesignMatrix.FromColumns(columns), [.. signs]);

        void Add(int row, int cut, double sign)
        {
            rows.Add(row);
            cutOf.Add(cut);
            signs.Add(sign);
        }
    }
}
