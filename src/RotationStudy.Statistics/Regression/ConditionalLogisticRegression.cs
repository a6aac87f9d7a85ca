using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>How the odds of a binary outcome depend on columns that differ inside matched sets, such as the two sides of one person.</summary>
/// <remarks>
/// <para><b>Model</b>: log odds = a_s + x'b with a constant a_s for each set, which is removed by conditioning on the number of cases in the set. Everything that is the
/// same for all rows of a set, measured or not, is thereby held; its effect cannot be estimated. exp(b) is an odds ratio within sets.</para>
/// <para><b>Fit</b>: the exact conditional likelihood for any number of cases (<see cref="ConditionalLogisticLikelihood"/>) by Newton's method with step halving
/// from zero; stop rule as for <see cref="LogisticRegression"/>.</para>
/// <para><b>Variance</b>: inverse information, for independent sets; with clusters of sets the sandwich of the sets' scores: CR1 = G/(G-1) (n-1)/(n-p) by
/// default with n contributing sets, t on G-1 (CR2 and CR3 need leverages and are not offered).</para>
/// <para><b>Edges</b>: sets without contrast (no case, cases only, one row) say nothing and are counted, not used. No set with contrast: too few data. A column
/// that is constant in every set: named. Separation within sets: the columns are named.</para>
/// <para><b>Sources</b>: Gail MH, Lubin JH, Rubinstein LV. Biometrika 1981;68:703-707; Breslow NE, Day NE. Statistical Methods in Cancer Research I, IARC
/// 1980, ch. 7.</para>
/// <para><b>Checked against</b>: Binary/matched_sets.</para>
/// </remarks>
public static class ConditionalLogisticRegression
{
    /// <summary>Fits the model.</summary>
    /// <param name="x">Design, n by p, without intercept: the sets take its place.</param>
    /// <param name="outcome">0 or 1 per row, length n.</param>
    /// <param name="sets">Matched sets of the rows.</param>
    /// <param name="clusters">Which rows may be dependent beyond their set, all rows of a set in one cluster; null takes sets as independent.</param>
    /// <param name="options">Variance, stop rule; null for the defaults.</param>
    /// <exception cref="InvalidInputError">An intercept, an outcome that is neither 0 nor 1, a set in two clusters, lengths that do not agree.</exception>
    /// <exception cref="TooFewDataError">No set with both outcomes, one cluster.</exception>
    /// <exception cref="RankDeficientError">A column is constant in every set or a combination of others.</exception>
    /// <exception cref="SeparationError">The columns split the outcome within sets.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    public static ConditionalLogisticFit Fit(
        DesignMatrix x, ReadOnlySpan<double> outcome, Clusters sets, Clusters? clusters = null, GeneralizedLinearOptions? options = null)
    {
        options ??= GeneralizedLinearOptions.Default;
        Check(x, outcome, sets);
        List<int> contributing = Contributing(outcome, sets, out int cases);
        ConditionalLogisticLikelihood likelihood = new(x, outcome, sets, contributing);
        IReadOnlyList<string> constant = likelihood.ConstantColumns();
        if (constant.Count > 0)
            throw new RankDeficientError(constant);
        NewtonAscent at = NewtonAscent.Maximize(likelihood, new double[x.Columns], options.Tolerance, options.MaximumIterations);
        SymmetricMatrix bread = new(x.Names, at.Factor.Inverse());
        Clusters? ofSets = clusters is null ? null : ClustersOfSets(sets, contributing, clusters);
        int silent = sets.Count - contributing.Count;
        return new ConditionalLogisticFit
        {
            Coefficients = ofSets is null
                ? new Coefficients(at.Values, bread, "model-based, independent sets") { LeaveOut = SetShifts(bread, likelihood.SetScores, sets, contributing) }
                : ClusterRobustCovariance.FromScores(at.Values, bread, likelihood.SetScores, ofSets, options.Variance ?? ClusterVariance.CR1, ofSets.Renumbering(clusters!, FirstRows(sets, contributing))),
            ModelBasedCovariance = bread,
            LogLikelihood = at.LogLikelihood,
            NullLogLikelihood = at.StartLogLikelihood,
            ScoreTest = GeneralizedLinearFit.ChiSquaredTest("score chi-square", at.StartDecrement, x.Columns),
            Sets = sets.Count,
            ContributingSets = contributing.Count,
            ContributingRows = likelihood.Rows,
            Cases = cases,
            ClusterCount = ofSets?.Count,
            Iterations = at.Iterations,
            Warnings = silent == 0 ? [] : [$"{silent} of {sets.Count} sets hold one outcome only and do not contribute"],
        };
    }

    private static void Check(DesignMatrix x, ReadOnlySpan<double> outcome, Clusters sets)
    {
        if (x.IndexOf(DesignMatrix.InterceptName) >= 0)
            throw new InvalidInputError("the design has an intercept, which the matched sets take up", "Build it from columns only.", column: DesignMatrix.InterceptName);
        Require.SameLength(outcome.Length, x.Rows, "outcome");
        Require.SameLength(sets.Rows, x.Rows, "sets");
        for (int i = 0; i < outcome.Length; i++)
        {
            if (outcome[i] is not (0 or 1))
                throw new InvalidInputError(FormattableString.Invariant($"'outcome' holds {outcome[i]} in row {i}, neither 0 nor 1"), "Code the case as 1 and the others as 0.", i, "outcome");
        }
    }

    private static List<int> Contributing(ReadOnlySpan<double> outcome, Clusters sets, out int cases)
    {
        List<int> contributing = [];
        cases = 0;
        for (int s = 0; s < sets.Count; s++)
        {
            int here = 0;
            foreach (int i in sets.Members(s))
                here += outcome[i] > 0 ? 1 : 0;
            if (here == 0 || here == sets.Members(s).Length)
                continue;
            contributing.Add(s);
            cases += here;
        }
        if (contributing.Count == 0)
            throw new TooFewDataError("no matched set holds both outcomes", "Conditional estimates need sets with contrast; use a marginal model.");
        return contributing;
    }

    private static LeaveOutShifts SetShifts(SymmetricMatrix bread, double[] scores, Clusters sets, List<int> contributing)
    {
        int[] unitOf = new int[sets.Count];
        Array.Fill(unitOf, -1);
        for (int s = 0; s < contributing.Count; s++)
            unitOf[contributing[s]] = s;
        return LeaveOutShifts.FromSums(bread.Values, scores, bread.Size).Renumbered(unitOf);
    }

    private static int[] FirstRows(Clusters sets, List<int> contributing) => [.. contributing.Select(s => sets.Members(s)[0])];

    private static Clusters ClustersOfSets(Clusters sets, List<int> contributing, Clusters clusters)
    {
        Require.SameLength(clusters.Rows, sets.Rows, "clusters");
        int[] of = new int[contributing.Count];
        for (int s = 0; s < of.Length; s++)
        {
            ReadOnlySpan<int> members = sets.Members(contributing[s]);
            of[s] = clusters.ClusterOfRow[members[0]];
            foreach (int i in members)
            {
                if (clusters.ClusterOfRow[i] != of[s])
                    throw new InvalidInputError($"the matched set of row {i} lies in two clusters", "A cluster must hold whole sets.", i, "clusters");
            }
        }
        return Clusters.From(of);
    }
}
