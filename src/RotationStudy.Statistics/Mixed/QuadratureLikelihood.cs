namespace RotationStudy.Statistics.Mixed;

/// <summary>The log-likelihood of a random-intercept model for binary outcomes or counts, by adaptive quadrature, with its exact gradient.</summary>
/// <remarks>
/// A group's integral over u of exp h(u), h(u) = sum log f(y | eta + s u) - u2/2 - log(2 pi)/2, is taken at nodes
/// u_k = m + sqrt(2) c x_k, m the mode of h and c = (-h''(m))^-1/2: log(sqrt(2) c) + log sum w_k exp(x_k2 + h(u_k)). The
/// gradient follows the nodes as they move with the parameters (m' = -h_u,par / h_uu, c' = c3/2 d h_uu), so that it is the
/// derivative of the value that is computed, whatever the number of nodes. The value is even in s: zero is no edge.
/// Rows stand group by group; chunks of groups are added in a fixed order.
/// </remarks>
internal sealed class QuadratureLikelihood
{
    private const int Chunks = 64;
    private const int ParallelFrom = 2000;

    private readonly int parameters;
    private readonly double[] rows;
    private readonly double[] y;
    private readonly double[] offset;
    private readonly int[] start;
    private readonly double[] modes;
    private readonly double[] spreads;
    private readonly GaussHermiteRule rule;
    private readonly MixedOutcome outcome;

    /// <param name="basis">Fixed columns; parameters are coefficients of the basis times the root of n.</param>
    /// <param name="y">Outcome.</param>
    /// <param name="offset">Offset, or empty.</param>
    /// <param name="groups">The grouping.</param>
    /// <param name="outcome">Binary or count.</param>
    /// <param name="points">Number of nodes.</param>
    internal QuadratureLikelihood(OrthonormalBasis basis, double[] y, double[] offset, Clusters groups, MixedOutcome outcome, int points)
    {
        this.outcome = outcome;
        rule = GaussHermiteRule.WithPoints(points);
        parameters = basis.Columns;
        int n = basis.Rows;
        rows = new double[n * parameters];
        this.y = new double[n];
        this.offset = new double[n];
        start = new int[groups.Count + 1];
        modes = new double[groups.Count];
        spreads = new double[groups.Count];
        double root = Math.Sqrt(n);
        int at = 0;
        for (int g = 0; g < groups.Count; g++)
        {
            foreach (int i in groups.Members(g))
            {
                for (int j = 0; j < parameters; j++)
                    rows[(at * parameters) + j] = root * basis.Column(j)[i];
                this.y[at] = y[i];
                this.offset[at] = offset.Length > 0 ? offset[i] : 0;
                at++;
            }
            start[g + 1] = at;
        }
    }

    /// <summary>Modes of the standardised effects at the last evaluation.</summary>
    internal ReadOnlySpan<double> Modes => modes;

    /// <summary>Their conditional standard deviations.</summary>
    internal ReadOnlySpan<double> Spreads => spreads;

    /// <summary>Minus twice the log-likelihood, without terms that hold the outcome only; parameters are p coefficients and s.</summary>
    internal double Deviance(ReadOnlySpan<double> at, Span<double> gradient)
    {
        double[] point = at.ToArray();
        int groups = modes.Length;
        int chunks = Math.Min(Chunks, groups);
        GroupSums[] done = new GroupSums[chunks];
        if (groups < ParallelFrom)
        {
            for (int c = 0; c < chunks; c++)
                Run(c);
        }
        else
        {
            Parallel.For(0, chunks, Run);
        }
        double sum = 0;
        gradient.Clear();
        foreach (GroupSums chunk in done)
        {
            sum += chunk.LogLikelihood;
            for (int j = 0; j < gradient.Length; j++)
                gradient[j] -= 2 * chunk.Gradient[j];
        }
        return -2 * sum;

        void Run(int c)
        {
            int from = (int)((long)groups * c / chunks);
            int to = (int)((long)groups * (c + 1) / chunks);
            int largest = 0;
            for (int g = from; g < to; g++)
                largest = Math.Max(largest, start[g + 1] - start[g]);
            GroupSums sums = new(parameters, largest, rule.Nodes.Length);
            for (int g = from; g < to; g++)
                AddGroup(g, point, sums);
            done[c] = sums;
        }
    }

    private void AddGroup(int g, double[] at, GroupSums sums)
    {
        int from = start[g];
        int size = start[g + 1] - from;
        double sigma = at[parameters];
        Span<double> eta = sums.Predictor.AsSpan(0, size);
        for (int i = 0; i < size; i++)
        {
            double sum = offset[from + i];
            ReadOnlySpan<double> row = rows.AsSpan((from + i) * parameters, parameters);
            for (int j = 0; j < parameters; j++)
                sum += row[j] * at[j];
            eta[i] = sum;
        }
        double mode = modes[g] = FindMode(eta, from, sigma, modes[g]);
        double weight = 0;
        double slope = 0;
        double residual = 0;
        for (int i = 0; i < size; i++)
        {
            (double mean, double variance, double third) = Moments(eta[i] + (sigma * mode));
            residual += y[from + i] - mean;
            weight += variance;
            slope += third;
            sums.Variance[i] = variance;
            sums.Third[i] = third;
        }
        double curvature = 1 + (sigma * sigma * weight);
        double spread = spreads[g] = 1 / Math.Sqrt(curvature);
        (double meanScore, double meanScoreNode) = Integrate(eta, from, sigma, mode, spread, sums);
        Differentiate(from, size, sigma, mode, spread, new Slopes(residual, weight, slope, meanScore, meanScoreNode), sums);
    }

    private double FindMode(ReadOnlySpan<double> eta, int from, double sigma, double mode)
    {
        for (int iteration = 0; iteration < 100; iteration++)
        {
            double score = -mode;
            double curvature = 1;
            for (int i = 0; i < eta.Length; i++)
            {
                (double mean, double variance, double _) = Moments(eta[i] + (sigma * mode));
                score += sigma * (y[from + i] - mean);
                curvature += sigma * sigma * variance;
            }
            double step = score / curvature;
            double longest = 2 / Math.Max(Math.Abs(sigma), 0.1);
            mode += Math.Clamp(step, -longest, longest);
            if (Math.Abs(step) < 1e-8)
                return mode;
        }
        throw new NotConvergedError("the mode of a group's random effect was not found", "Look for a group with extreme counts or offsets.", 100);
    }

    // Adds the log integral; leaves sum p_k (y - mu_k) per row, sum p_k u_k sum(y - mu_k), and returns sums of p_k h_u.
    private (double Score, double ScoreNode) Integrate(ReadOnlySpan<double> eta, int from, double sigma, double mode, double spread, GroupSums sums)
    {
        int size = eta.Length;
        int points = rule.Nodes.Length;
        double best = double.NegativeInfinity;
        for (int k = 0; k < points; k++)
        {
            double u = mode + (Math.Sqrt(2) * spread * rule.Nodes[k]);
            double log = LogDensities(eta, from, sigma * u, sums.Means.AsSpan(k * size, size)) - (0.5 * u * u);
            sums.Log[k] = log + (rule.Nodes[k] * rule.Nodes[k]) + Math.Log(rule.Weights[k]);
            best = Math.Max(best, sums.Log[k]);
        }
        double total = 0;
        for (int k = 0; k < points; k++)
            total += sums.Log[k] = Math.Exp(sums.Log[k] - best);
        sums.LogLikelihood += best + Math.Log(total) + Math.Log(spread) - (0.5 * Math.Log(Math.PI));
        Span<double> residuals = sums.Residual.AsSpan(0, size);
        residuals.Clear();
        (double score, double scoreNode, double byDeviation) = (0, 0, 0);
        for (int k = 0; k < points; k++)
        {
            double share = sums.Log[k] / total;
            double u = mode + (Math.Sqrt(2) * spread * rule.Nodes[k]);
            double sum = 0;
            for (int i = 0; i < size; i++)
            {
                double r = y[from + i] - sums.Means[(k * size) + i];
                residuals[i] += share * r;
                sum += r;
            }
            double hu = (sigma * sum) - u;
            score += share * hu;
            scoreNode += share * hu * rule.Nodes[k];
            byDeviation += share * u * sum;
        }
        sums.ByDeviation = byDeviation;
        return (score, scoreNode);
    }

    // d l / d par = c'/c + sum p_k [h_par(u_k) + h_u(u_k) (m' + sqrt(2) c' x_k)].
    private void Differentiate(int from, int size, double sigma, double mode, double spread, Slopes s, GroupSums sums)
    {
        double variance = spread * spread;
        double bySpread = (1 / spread) + (Math.Sqrt(2) * s.MeanScoreNode);
        double third = -sigma * sigma * sigma * s.Third;
        double toSpread = 0.5 * spread * variance * bySpread;
        for (int i = 0; i < size; i++)
        {
            double modeSlope = -sigma * sums.Variance[i] * variance;
            double curvatureSlope = (-sigma * sigma * sums.Third[i]) + (third * modeSlope);
            double factor = sums.Residual[i] + (s.MeanScore * modeSlope) + (toSpread * curvatureSlope);
            ReadOnlySpan<double> row = rows.AsSpan((from + i) * parameters, parameters);
            for (int j = 0; j < parameters; j++)
                sums.Gradient[j] += factor * row[j];
        }
        double modeBySigma = (s.Residual - (sigma * mode * s.Weight)) * variance;
        double curvatureBySigma = (-2 * sigma * s.Weight) - (sigma * sigma * mode * s.Third) + (third * modeBySigma);
        sums.Gradient[parameters] += sums.ByDeviation + (s.MeanScore * modeBySigma) + (toSpread * curvatureBySigma);
    }

    // Sum of log densities without terms of the outcome alone; fills the means. One logarithm serves many rows.
    private double LogDensities(ReadOnlySpan<double> eta, int from, double shift, Span<double> means)
    {
        double sum = 0;
        double product = 1;
        for (int i = 0; i < eta.Length; i++)
        {
            double e = eta[i] + shift;
            sum += y[from + i] * e;
            if (outcome == MixedOutcome.Count)
            {
                means[i] = Math.Exp(e);
                sum -= means[i];
                continue;
            }
            double small = Math.Exp(-Math.Abs(e));
            means[i] = (e >= 0 ? 1 : small) / (1 + small);
            sum -= Math.Max(e, 0);
            product *= 1 + small;
            if (product > 1e250)
            {
                sum -= Math.Log(product);
                product = 1;
            }
        }
        return sum - Math.Log(product);
    }

    // Mean, variance, and its derivative by the predictor.
    private (double Mean, double Variance, double Third) Moments(double e)
    {
        if (outcome == MixedOutcome.Count)
        {
            double mean = Math.Exp(e);
            return (mean, mean, mean);
        }
        double small = Math.Exp(-Math.Abs(e));
        double p = (e >= 0 ? 1 : small) / (1 + small);
        double variance = small / ((1 + small) * (1 + small));
        return (p, variance, variance * (1 - (2 * p)));
    }

    private readonly record struct Slopes(double Residual, double Weight, double Third, double MeanScore, double MeanScoreNode);

    private sealed class GroupSums(int parameters, int largest, int points)
    {
        internal double LogLikelihood { get; set; }

        internal double ByDeviation { get; set; }

        internal double[] Gradient { get; } = new double[parameters + 1];

        internal double[] Predictor { get; } = new double[largest];

        internal double[] Variance { get; } = new double[largest];

        internal double[] Third { get; } = new double[largest];

        internal double[] Residual { get; } = new double[largest];

        internal double[] Means { get; } = new double[largest * points];

        internal double[] Log { get; } = new double[points];
    }
}
