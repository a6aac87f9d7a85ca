using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Mixed;

/// <summary>The covariance of fixed effects enlarged for the estimation of the variances, and scaled F tests (Kenward &amp; Roger 1997).</summary>
/// <remarks>
/// The variance is linear in its parameters, V = sum s_i G_i: one G per variance or covariance of a term and one for the
/// residual, so second derivatives vanish. With Phi = (X'V^-1X)^-1, P_i = -X'V^-1G_iV^-1X, Q_ij = X'V^-1G_iV^-1G_jV^-1X and W the
/// inverse of the expected information, the covariance is Phi + 2 Phi [sum W_ij (Q_ij - P_i Phi P_j)] Phi. Rows that share no
/// group are independent, so the sums are taken over connected sets of rows, each with its own dense V.
/// Source: Biometrics 53:983-997, sec. 2 and 3.
/// </remarks>
internal sealed class KenwardRoger
{
    /// <summary>The most rows of one connected set: its dense matrices grow with the square of that.</summary>
    internal const int MostConnectedRows = 1500;

    private readonly int p;
    private readonly int parameters;
    private readonly double[] phi;
    private readonly double[][] first;
    private readonly double[][] second;
    private readonly double[] traces;
    private readonly double[] weights;
    private readonly double[] adjusted;
    private readonly OrthonormalBasis basis;

    internal KenwardRoger(ProfiledDeviance deviance, ProfiledDeviance.Point at, double residualVariance)
    {
        if (!deviance.Restricted)
            throw new InvalidInputError("Kenward and Roger's method is for restricted likelihood", "Fit by the restricted likelihood, or take Satterthwaite's degrees of freedom.");
        basis = deviance.Basis;
        p = basis.Columns;
        VarianceDerivatives derivatives = new(deviance.Terms, deviance.Covariance, at.Theta, residualVariance);
        parameters = derivatives.Count;
        first = new double[parameters][];
        second = new double[parameters * parameters][];
        for (int i = 0; i < parameters; i++)
            first[i] = new double[p * p];
        for (int i = 0; i < second.Length; i++)
            second[i] = new double[p * p];
        traces = new double[parameters * parameters];
        double[] information = new double[p * p];
        foreach (int[] rows in ConnectedRows(deviance))
            AddRows(rows, derivatives, information);
        string[] names = new string[p];
        Array.Fill(names, "fixed column");
        phi = SmallCholesky.Factor(information, p, names).Inverse();
        weights = ExpectedCovariance();
        adjusted = Adjust();
    }

    /// <summary>Covariance of two contrasts of the original fixed columns.</summary>
    internal double ContrastCovariance(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
        => Quadratic(basis.ContrastInBasis(a), adjusted, basis.ContrastInBasis(b));

    /// <summary>Denominator degrees of freedom of one contrast.</summary>
    internal double DegreesOfFreedom(double[] contrast) => Moments([contrast]).DegreesOfFreedom;

    /// <summary>Scale and denominator degrees of freedom of the F statistic of several contrasts (rows of original weights).</summary>
    internal (double Scale, double DegreesOfFreedom) Moments(double[][] contrasts)
    {
        int l = contrasts.Length;
        double[] theta = Theta(contrasts);
        double[] traceOf = new double[parameters];
        double[][] product = new double[parameters][];
        for (int i = 0; i < parameters; i++)
        {
            product[i] = Times(theta, Times(phi, Times(first[i], phi)));
            traceOf[i] = Trace(product[i]);
        }
        (double a1, double a2) = (0, 0);
        for (int i = 0; i < parameters; i++)
        {
            for (int j = 0; j < parameters; j++)
            {
                a1 += weights[(i * parameters) + j] * traceOf[i] * traceOf[j];
                a2 += weights[(i * parameters) + j] * Trace(Times(product[i], product[j]));
            }
        }
        double b = (a1 + (6 * a2)) / (2 * l);
        double g = (((l + 1) * a1) - ((l + 4) * a2)) / ((l + 2) * a2);
        double divisor = (3 * l) + (2 * (1 - g));
        double expectation = 1 / (1 - (a2 / l));
        double below = 1 - ((l - g) / divisor * b);
        double variance = 2.0 / l * (1 + (g / divisor * b)) / (below * below * (1 - ((l + 2 - g) / divisor * b)));
        double rho = variance / (2 * expectation * expectation);
        double df = 4 + ((l + 2) / ((l * rho) - 1));
        return (df / (expectation * (df - 2)), df);
    }

    // Rows of one top group, or all rows where terms cross.
    private static IEnumerable<int[]> ConnectedRows(ProfiledDeviance deviance)
    {
        TermHierarchy hierarchy = deviance.Products.Hierarchy;
        Clusters top = hierarchy.Crossed.Length > 0 ? Clusters.From(new int[deviance.Basis.Rows]) : deviance.Terms[hierarchy.Chain[^1]].Groups;
        if (top.LargestSize > MostConnectedRows)
            throw new InvalidInputError($"{top.LargestSize} rows are connected by shared groups, more than the {MostConnectedRows} that Kenward and Roger's method takes", "Take Satterthwaite's degrees of freedom, which differ little in samples of this size.");
        for (int c = 0; c < top.Count; c++)
            yield return top.Members(c).ToArray();
    }

    private void AddRows(int[] rows, VarianceDerivatives derivatives, double[] information)
    {
        int n = rows.Length;
        double[] inverse = derivatives.InverseVariance(rows);
        double[] x = new double[n * p];
        for (int s = 0; s < n; s++)
        {
            for (int j = 0; j < p; j++)
                x[(s * p) + j] = basis.Column(j)[rows[s]];
        }
        double[] vx = Product(inverse, x, n, n, p);
        Accumulate(information, x, vx, n, 1);
        double[][] left = new double[parameters][];
        double[][] leftX = new double[parameters][];
        for (int i = 0; i < parameters; i++)
        {
            left[i] = derivatives.Times(inverse, i, rows);
            leftX[i] = Product(left[i], vx, n, n, p);
            Accumulate(first[i], x, leftX[i], n, -1);
        }
        for (int i = 0; i < parameters; i++)
        {
            for (int j = 0; j < parameters; j++)
            {
                // X'V^-1 G_i V^-1 G_j V^-1 X = (G_i V^-1 X)' (V^-1 G_j V^-1 X).
                Accumulate(second[(i * parameters) + j], derivatives.Apply(i, vx, rows, p), leftX[j], n, 1);
                for (int s = 0; s < n; s++)
                {
                    for (int t = 0; t < n; t++)
                        traces[(i * parameters) + j] += left[i][(s * n) + t] * left[j][(t * n) + s];
                }
            }
        }
    }

    // W = 2 [tr(V^-1 G_i V^-1 G_j) - tr(2 Phi Q_ij - Phi P_i Phi P_j)]^-1.
    private double[] ExpectedCovariance()
    {
        double[] twice = new double[traces.Length];
        for (int i = 0; i < parameters; i++)
        {
            for (int j = 0; j < parameters; j++)
            {
                int at = (i * parameters) + j;
                twice[at] = traces[at] - (2 * Trace(Times(phi, second[at]))) + Trace(Times(Times(phi, first[i]), Times(phi, first[j])));
            }
        }
        double[] inverse = VarianceInformation.InvertScaled(twice, parameters);
        return [.. inverse.Select(v => 2 * v)];
    }

    private double[] Adjust()
    {
        double[] sum = new double[p * p];
        for (int i = 0; i < parameters; i++)
        {
            for (int j = 0; j < parameters; j++)
            {
                double[] product = Times(first[i], Times(phi, first[j]));
                for (int k = 0; k < sum.Length; k++)
                    sum[k] += weights[(i * parameters) + j] * (second[(i * parameters) + j][k] - product[k]);
            }
        }
        double[] enlargement = Times(phi, Times(sum, phi));
        return [.. phi.Select((v, k) => v + (2 * enlargement[k]))];
    }

    // L'(L Phi L')^-1 L in the basis.
    private double[] Theta(double[][] contrasts)
    {
        int l = contrasts.Length;
        double[][] c = [.. contrasts.Select(w => basis.ContrastInBasis(w))];
        double[] middle = new double[l * l];
        string[] names = [.. Enumerable.Range(1, l).Select(k => FormattableString.Invariant($"contrast {k}"))];
        for (int i = 0; i < l; i++)
        {
            for (int j = 0; j < l; j++)
                middle[(i * l) + j] = Quadratic(c[i], phi, c[j]);
        }
        double[] inverse = SmallCholesky.Factor(middle, l, names).Inverse();
        double[] theta = new double[p * p];
        for (int i = 0; i < l; i++)
        {
            for (int j = 0; j < l; j++)
            {
                for (int a = 0; a < p; a++)
                {
                    for (int b = 0; b < p; b++)
                        theta[(a * p) + b] += c[i][a] * inverse[(i * l) + j] * c[j][b];
                }
            }
        }
        return theta;
    }

    private double[] Times(double[] a, double[] b) => Product(a, b, p, p, p);

    private static double[] Product(double[] a, double[] b, int rows, int inner, int columns)
    {
        double[] product = new double[rows * columns];
        for (int i = 0; i < rows; i++)
        {
            for (int k = 0; k < inner; k++)
                CrossProduct.AddScaled(b.AsSpan(k * columns, columns), a[(i * inner) + k], product.AsSpan(i * columns, columns));
        }
        return product;
    }

    // target += sign a'b, both n by p.
    private void Accumulate(double[] target, double[] a, double[] b, int n, double sign)
    {
        for (int s = 0; s < n; s++)
        {
            for (int i = 0; i < p; i++)
            {
                for (int j = 0; j < p; j++)
                    target[(i * p) + j] += sign * a[(s * p) + i] * b[(s * p) + j];
            }
        }
    }

    private double Trace(double[] matrix)
    {
        double sum = 0;
        for (int i = 0; i < p; i++)
            sum += matrix[(i * p) + i];
        return sum;
    }

    private double Quadratic(double[] a, double[] matrix, double[] b)
    {
        double sum = 0;
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < p; j++)
                sum += a[i] * matrix[(i * p) + j] * b[j];
        }
        return sum;
    }
}
