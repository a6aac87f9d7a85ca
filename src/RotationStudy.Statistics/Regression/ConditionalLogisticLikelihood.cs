using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>The conditional likelihood of matched sets, exact for any number of cases in a set.</summary>
/// <remarks>
/// A set of n rows with m cases adds log(exp(sum over cases of x'b) / B(m, n)), where B(m, n) is the sum over all choices of m of the n rows. It and its derivatives
/// follow from B(j, k) = B(j, k-1) + u_k B(j-1, k-1), u_k = exp(x_k'b) (Gail, Lubin and Rubinstein 1981), in n m p^2 operations instead of a
/// number of choices that explodes. Columns are centred in each set, which changes nothing but rounding; a set with more cases than others
/// is turned round (choosing the others with -b is the same); sums are scaled down before they overflow.
/// </remarks>
internal sealed class ConditionalLogisticLikelihood : ILogLikelihood
{
    private const double TooLarge = 1e200;
    private const long MostPairs = 5_000_000;

    private readonly int p;
    private readonly int[] setStart;
    private readonly int[] caseCount;
    private readonly double[] rows;
    private readonly bool[] isCase;
    private readonly double[] eta;
    private readonly double[] sums;
    private readonly double[] first;
    private readonly double[] second;
    private readonly double[] gradient;
    private readonly double[] information;

    /// <param name="x">Design, n by p.</param>
    /// <param name="outcome">0 or 1 per row.</param>
    /// <param name="sets">Matched sets.</param>
    /// <param name="contributing">The sets that hold both outcomes.</param>
    internal ConditionalLogisticLikelihood(DesignMatrix x, ReadOnlySpan<double> outcome, Clusters sets, IReadOnlyList<int> contributing)
    {
        Names = x.Names;
        p = x.Columns;
        setStart = new int[contributing.Count + 1];
        caseCount = new int[contributing.Count];
        for (int s = 0; s < contributing.Count; s++)
            setStart[s + 1] = setStart[s] + sets.Members(contributing[s]).Length;
        rows = new double[setStart[^1] * p];
        isCase = new bool[setStart[^1]];
        eta = new double[setStart[^1]];
        for (int s = 0; s < contributing.Count; s++)
            Load(x, outcome, sets.Members(contributing[s]), s);
        int most = caseCount.Length == 0 ? 0 : caseCount.Max();
        sums = new double[most + 1];
        first = new double[(most + 1) * p];
        second = new double[(most + 1) * p * p];
        SetScores = new double[contributing.Count * p];
        gradient = new double[p];
        information = new double[p * p];
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> Names { get; }

    /// <summary>Score of each set where last evaluated, column after column.</summary>
    internal double[] SetScores { get; }

    /// <summary>Rows in contributing sets.</summary>
    internal int Rows => isCase.Length;

    private int Sets => caseCount.Length;

    /// <summary>Columns that are constant in every contributing set, for which matching leaves nothing to estimate.</summary>
    internal IReadOnlyList<string> ConstantColumns()
    {
        List<string> constant = [];
        for (int j = 0; j < p; j++)
        {
            bool varies = false;
            for (int i = 0; i < Rows && !varies; i++)
                varies = rows[(i * p) + j] != 0;
            if (!varies)
                constant.Add(Names[j]);
        }
        return constant;
    }

    /// <inheritdoc/>
    public double Evaluate(ReadOnlySpan<double> b)
    {
        Array.Clear(gradient);
        Array.Clear(information);
        double total = 0;
        for (int s = 0; s < Sets; s++)
            total += AddSet(s, b);
        return total;
    }

    /// <inheritdoc/>
    public void Differentiate(Span<double> gradient, Span<double> information)
    {
        this.gradient.CopyTo(gradient);
        this.information.CopyTo(information);
    }

    /// <inheritdoc/>
    public void RequireFinite(double decrement)
    {
        // With every difference inside a set moderate, a decrement this small certifies the maximum.
        double widest = 0;
        foreach (double e in eta)
            widest = Math.Max(widest, Math.Abs(e));
        if (!double.IsNaN(decrement) && widest < 8)
            return;
        (DesignMatrix pairs, double[] signs) = Pairs();
        IReadOnlyList<string> columns = new SeparationProgramme(pairs, signs).SeparatedColumns();
        if (columns.Count > 0)
            throw new SeparationError(columns, "No set speaks against them: use fewer columns, or give the numbers of sets on either side with an exact interval.");
    }

    private void Load(DesignMatrix x, ReadOnlySpan<double> outcome, ReadOnlySpan<int> members, int set)
    {
        int cases = 0;
        foreach (int i in members)
            cases += outcome[i] > 0 ? 1 : 0;
        bool turned = cases > members.Length - cases;
        caseCount[set] = turned ? members.Length - cases : cases;
        double sign = turned ? -1 : 1;
        for (int j = 0; j < p; j++)
        {
            double mean = 0;
            bool constant = true;
            foreach (int i in members)
            {
                mean += x[i, j] / members.Length;
                constant &= x[i, j] == x[members[0], j];
            }
            for (int k = 0; k < members.Length; k++)
                rows[((setStart[set] + k) * p) + j] = constant ? 0 : sign * (x[members[k], j] - mean);
        }
        for (int k = 0; k < members.Length; k++)
            isCase[setStart[set] + k] = (outcome[members[k]] > 0) != turned;
    }

    private double AddSet(int set, ReadOnlySpan<double> b)
    {
        int m = caseCount[set];
        double highest = double.NegativeInfinity;
        for (int i = setStart[set]; i < setStart[set + 1]; i++)
        {
            eta[i] = CrossProduct.Dot(rows.AsSpan(i * p, p), b);
            highest = Math.Max(highest, eta[i]);
        }
        double logScale = Recurse(set, highest);
        double total = -Math.Log(sums[m]) - logScale;
        Span<double> firstM = first.AsSpan(m * p, p);
        Span<double> secondM = second.AsSpan(m * p * p, p * p);
        for (int j = 0; j < p; j++)
            SetScores[(j * Sets) + set] = -firstM[j] / sums[m];
        for (int i = setStart[set]; i < setStart[set + 1]; i++)
        {
            if (!isCase[i])
                continue;
            total += eta[i] - highest;
            for (int j = 0; j < p; j++)
                SetScores[(j * Sets) + set] += rows[(i * p) + j];
        }
        for (int j = 0; j < p; j++)
        {
            gradient[j] += SetScores[(j * Sets) + set];
            for (int k = 0; k < p; k++)
                information[(j * p) + k] += (secondM[(j * p) + k] / sums[m]) - (firstM[j] / sums[m] * (firstM[k] / sums[m]));
        }
        return total;
    }

    // Fills the sums over choices of 0 to m rows with their derivatives; returns the log of the factor taken out.
    private double Recurse(int set, double highest)
    {
        int m = caseCount[set];
        Array.Clear(sums, 0, m + 1);
        Array.Clear(first, 0, (m + 1) * p);
        Array.Clear(second, 0, (m + 1) * p * p);
        sums[0] = 1;
        double logScale = 0;
        for (int i = setStart[set]; i < setStart[set + 1]; i++)
        {
            double u = Math.Exp(eta[i] - highest);
            ReadOnlySpan<double> x = rows.AsSpan(i * p, p);
            for (int j = Math.Min(i - setStart[set] + 1, m); j >= 1; j--)
                AddChoice(j, u, x);
            if (sums[m] <= TooLarge && sums[(m + 1) / 2] <= TooLarge)
                continue;
            for (int j = 0; j <= m; j++)
                sums[j] /= TooLarge;
            for (int j = 0; j < (m + 1) * p; j++)
                first[j] /= TooLarge;
            for (int j = 0; j < (m + 1) * p * p; j++)
                second[j] /= TooLarge;
            logScale += Math.Log(TooLarge);
        }
        return logScale;
    }

    private void AddChoice(int j, double u, ReadOnlySpan<double> x)
    {
        ReadOnlySpan<double> lower = first.AsSpan((j - 1) * p, p);
        ReadOnlySpan<double> lowerSecond = second.AsSpan((j - 1) * p * p, p * p);
        Span<double> upper = first.AsSpan(j * p, p);
        Span<double> upperSecond = second.AsSpan(j * p * p, p * p);
        for (int a = 0; a < p; a++)
        {
            for (int c = 0; c < p; c++)
                upperSecond[(a * p) + c] += u * (lowerSecond[(a * p) + c] + (x[a] * lower[c]) + (lower[a] * x[c]) + (x[a] * x[c] * sums[j - 1]));
            upper[a] += u * (lower[a] + (x[a] * sums[j - 1]));
        }
        sums[j] += u * sums[j - 1];
    }

    // Case minus other, for every pair in a set: a direction in which none falls and some rise separates.
    private (DesignMatrix Pairs, double[] Signs) Pairs()
    {
        long pairCount = 0;
        for (int s = 0; s < Sets; s++)
            pairCount += (long)caseCount[s] * (setStart[s + 1] - setStart[s] - caseCount[s]);
        if (pairCount > MostPairs)
            throw new NotConvergedError("the sets are too large to look for separation in them", "Use a logistic regression with a column per set instead.", 0);
        List<double>[] columns = [.. Enumerable.Range(0, p).Select(_ => new List<double>())];
        for (int s = 0; s < Sets; s++)
        {
            for (int i = setStart[s]; i < setStart[s + 1]; i++)
            {
                for (int k = setStart[s]; isCase[i] && k < setStart[s + 1]; k++)
                {
                    for (int j = 0; j < p && !isCase[k]; j++)
                        columns[j].Add(rows[(i * p) + j] - rows[(k * p) + j]);
                }
            }
        }
        DesignMatrix pairs = DesignMatrix.FromColumns([.. Enumerable.Range(0, p).Select(j => (Names[j], (IReadOnlyList<double>)columns[j]))]);
        double[] signs = new double[pairs.Rows];
        Array.Fill(signs, 1);
        return (pairs, signs);
    }
}
