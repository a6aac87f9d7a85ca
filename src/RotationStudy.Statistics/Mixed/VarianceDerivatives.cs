using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Mixed;

/// <summary>The variance V of some rows as a sum of parameters times matrices G: one per variance or covariance, last the residual.</summary>
internal sealed class VarianceDerivatives
{
    private readonly IReadOnlyList<RandomTerm> terms;
    private readonly List<(int Term, int A, int B)> cells = [];
    private readonly double[][] covariances;
    private readonly double residualVariance;

    internal VarianceDerivatives(IReadOnlyList<RandomTerm> terms, RelativeCovariance covariance, double[] theta, double residualVariance)
    {
        this.terms = terms;
        this.residualVariance = residualVariance;
        covariances = new double[terms.Count][];
        for (int t = 0; t < terms.Count; t++)
        {
            covariances[t] = covariance.Covariance(t, theta);
            for (int a = 0; a < terms[t].Size; a++)
            {
                for (int b = 0; b <= a; b++)
                {
                    if (a == b || terms[t].Correlated)
                        cells.Add((t, a, b));
                }
            }
        }
    }

    /// <summary>Number of parameters.</summary>
    internal int Count => cells.Count + 1;

    /// <summary>V^-1 of some rows, n by n.</summary>
    internal double[] InverseVariance(int[] rows)
    {
        int n = rows.Length;
        double[] v = new double[n * n];
        for (int s = 0; s < n; s++)
        {
            for (int t = 0; t <= s; t++)
                v[(s * n) + t] = v[(t * n) + s] = residualVariance * ((s == t ? 1 : 0) + Shared(rows[s], rows[t]));
        }
        string[] names = new string[n];
        Array.Fill(names, "row");
        return SmallCholesky.Factor(v, n, names).Inverse();
    }

    /// <summary>A matrix (n by n) times G of one parameter.</summary>
    internal double[] Times(double[] matrix, int parameter, int[] rows)
    {
        int n = rows.Length;
        if (parameter == cells.Count)
            return matrix;
        double[] product = new double[n * n];
        for (int s = 0; s < n; s++)
        {
            for (int t = 0; t < n; t++)
            {
                double g = Entry(parameter, rows[s], rows[t]);
                for (int i = 0; g != 0 && i < n; i++)
                    product[(i * n) + t] += matrix[(i * n) + s] * g;
            }
        }
        return product;
    }

    /// <summary>G of one parameter times a matrix of n rows.</summary>
    internal double[] Apply(int parameter, double[] matrix, int[] rows, int columns)
    {
        int n = rows.Length;
        if (parameter == cells.Count)
            return matrix;
        double[] product = new double[n * columns];
        for (int s = 0; s < n; s++)
        {
            for (int t = 0; t < n; t++)
            {
                double g = Entry(parameter, rows[s], rows[t]);
                for (int c = 0; g != 0 && c < columns; c++)
                    product[(s * columns) + c] += g * matrix[(t * columns) + c];
            }
        }
        return product;
    }

    private double Entry(int parameter, int s, int t)
    {
        (int term, int a, int b) = cells[parameter];
        RandomTerm definition = terms[term];
        if (definition.Groups.ClusterOfRow[s] != definition.Groups.ClusterOfRow[t])
            return 0;
        double product = definition.Multiplier(s, a) * definition.Multiplier(t, b);
        return a == b ? product : product + (definition.Multiplier(s, b) * definition.Multiplier(t, a));
    }

    private double Shared(int s, int t)
    {
        double sum = 0;
        for (int k = 0; k < terms.Count; k++)
        {
            RandomTerm term = terms[k];
            if (term.Groups.ClusterOfRow[s] != term.Groups.ClusterOfRow[t])
                continue;
            for (int a = 0; a < term.Size; a++)
            {
                for (int b = 0; b < term.Size; b++)
                    sum += term.Multiplier(s, a) * covariances[k][(a * term.Size) + b] * term.Multiplier(t, b);
            }
        }
        return sum;
    }
}
