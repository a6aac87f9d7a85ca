namespace RotationStudy.Statistics.Mixed;

/// <summary>Which likelihood a linear mixed model maximises.</summary>
public enum LikelihoodCriterion
{
    /// <summary>The likelihood of the residual contrasts: variances without the bias from estimating the fixed effects.</summary>
    Restricted,

    /// <summary>The full likelihood: for likelihood-ratio tests of fixed effects.</summary>
    Full,
}

/// <summary>How degrees of freedom of the fixed effects are reached.</summary>
public enum FixedEffectDegreesOfFreedom
{
    /// <summary>Satterthwaite's moments of the estimated variance of each contrast.</summary>
    Satterthwaite,

    /// <summary>Kenward &amp; Roger (1997): covariance enlarged for the estimation of the variances, and scaled F tests.</summary>
    KenwardRoger,

    /// <summary>None: the normal reference, for many groups only.</summary>
    Normal,
}

/// <summary>Choices of a linear mixed model.</summary>
public sealed record LinearMixedModelOptions
{
    /// <summary>Restricted by default, since its variances are unbiased in balanced data; full for tests of fixed effects by likelihood ratio.</summary>
    public LikelihoodCriterion Criterion { get; init; } = LikelihoodCriterion.Restricted;

    /// <summary>Satterthwaite by default, exact in balanced data and cheap at every size.</summary>
    public FixedEffectDegreesOfFreedom DegreesOfFreedom { get; init; } = FixedEffectDegreesOfFreedom.Satterthwaite;
}

/// <summary>Linear mixed models: a numeric outcome whose rows share persons, units within persons, or raters.</summary>
/// <remarks>
/// <para>Model: y = X b + sum over terms of Z u + e; y has n rows, X is n by p; each group of a term with q columns has
/// its own effects u ~ N(0, Psi), q by q; e ~ N(0, s2). Terms may be nested or crossed; nesting is found from the rows.
/// A coefficient is the change of the mean per unit of its column, in an average group.</para>
/// <para>Assumes normal effects and errors, effects independent of the columns, and outcomes missing at random.</para>
/// <para>Fit: fixed effects and s2 are profiled out and the deviance is minimised over the factors of Psi / s2 with exact
/// gradients (Bates et al. 2015, sec. 3; derivatives by the rules of matrix calculus and a sparse inverse). Nested terms are
/// eliminated group by group in time and memory linear in the rows; crossed terms form a dense block and should have few
/// groups (2,000 effects at most). It stops when a Newton step promises less than 1e-13 of deviance and no direction curves
/// downwards; otherwise <see cref="NotConvergedError"/>.</para>
/// <para>Variance: s2 (X'V^-1X)^-1, or Kenward and Roger's. Degrees of freedom by Satterthwaite from the observed information
/// of all variance parameters, or Kenward-Roger; with a random intercept in balanced growth data both count residuals, with
/// a random slope they count persons.</para>
/// <para>At the edges: a variance that is best at zero, or a correlation at one, is reported in
/// <see cref="LinearMixedModelFit.BoundaryTerms"/>, not as an error; a column that depends on others, a single group, or as many effects as rows are refused.</para>
/// <para>Libraries differ in the constant of the restricted likelihood: here it includes log|X'V^-1X| in the columns' own
/// units and (n - p) log 2 pi. BIC takes log n with n rows.</para>
/// <para><b>Sources.</b> Bates D, Maechler M, Bolker B, Walker S (2015), J Stat Softw 67(1), sec. 3. Harville DA (1977), J Am
/// Stat Assoc 72:320-338. Satterthwaite FE (1946), Biometrics Bull 2:110-114. Kenward MG, Roger JH (1997), Biometrics
/// 53:983-997. Laird NM, Ware JH (1982), Biometrics 38:963-974.</para>
/// <para><b>Checked against</b> Mixed/orthodont, Mixed/sleepstudy, Mixed/nested_and_crossed, Peers/cohort_300.</para>
/// </remarks>
public static class LinearMixedModel
{
    private const double BoundaryRise = 1e-6;

    /// <summary>Fits the model.</summary>
    /// <param name="x">Fixed columns, n by p, with the intercept if one is wanted.</param>
    /// <param name="outcome">Outcome, n values.</param>
    /// <param name="terms">Random terms, one per grouping.</param>
    /// <param name="options">Choices; null for the defaults.</param>
    /// <exception cref="InvalidInputError">Lengths that differ, NaN, names or groupings given twice, too many crossed effects.</exception>
    /// <exception cref="RankDeficientError">A fixed column depends on others.</exception>
    /// <exception cref="TooFewDataError">One group, no more rows than columns or effects, no residual variance.</exception>
    /// <exception cref="NotConvergedError">No minimum of the deviance was reached.</exception>
    public static LinearMixedModelFit Fit(
        DesignMatrix x, IReadOnlyList<double> outcome, IReadOnlyList<RandomTerm> terms, LinearMixedModelOptions? options = null)
    {
        options ??= new LinearMixedModelOptions();
        CheckInputs(x, outcome, terms);
        ProfiledDeviance deviance = new(x, outcome, terms, options.Criterion == LikelihoodCriterion.Restricted);
        SmoothMinimizer.Minimum found = SmoothMinimizer.Minimize(
            deviance.ProfiledWithGradient, deviance.Covariance.Start(), "the linear mixed model");
        (double[] theta, double[] hessian) = OnBoundary(deviance, found);
        ProfiledDeviance.Point at = deviance.At(theta);
        VarianceInformation information = new(deviance, at, deviance.Differentiate(at), hessian);
        return new LinearMixedModelFit(x, outcome, deviance, at, information, options, found.Iterations);
    }

    // A diagonal entry this small is a variance of zero, approached from inside: its column of the factor is set to zero
    // and the deviance minimised again over the rest, so that no direction is left along which nothing changes.
    private static (double[] Theta, double[] Hessian) OnBoundary(ProfiledDeviance deviance, SmoothMinimizer.Minimum found)
    {
        double[] theta = [.. found.X];
        deviance.Covariance.MakeDiagonalPositive(theta);
        double[] full = deviance.Covariance.WithoutEmptyColumns(theta, LinearMixedModelFit.BoundaryTolerance);
        int[] free = [.. Enumerable.Range(0, theta.Length).Where(m => full[m] != 0 || !IsEmptyColumn(deviance.Covariance, full, m))];
        if (free.Length == theta.Length)
            return (theta, theta.SequenceEqual(found.X) ? found.Hessian : SmoothMinimizer.Hessian(deviance.ProfiledWithGradient, theta));
        if (free.Length > 0)
        {
            double[] best = SmoothMinimizer.Minimize(deviance.Among(free), [.. free.Select(m => full[m])], "the linear mixed model").X;
            for (int k = 0; k < free.Length; k++)
                full[free[k]] = best[k];
            deviance.Covariance.MakeDiagonalPositive(full);
        }
        if (deviance.Profiled(deviance.At(full)) > found.Value + BoundaryRise)
            return (theta, SmoothMinimizer.Hessian(deviance.ProfiledWithGradient, theta));
        double[] hessian = new double[theta.Length * theta.Length];
        double[] reduced = SmoothMinimizer.Hessian(deviance.Among(free), [.. free.Select(m => full[m])]);
        for (int i = 0; i < free.Length; i++)
        {
            for (int j = 0; j < free.Length; j++)
                hessian[(free[i] * theta.Length) + free[j]] = reduced[(i * free.Length) + j];
        }
        return (full, hessian);
    }

    private static bool IsEmptyColumn(RelativeCovariance covariance, double[] theta, int parameter)
    {
        (int term, int _, int column) = covariance.Cell(parameter);
        for (int m = 0; m < theta.Length; m++)
        {
            if (covariance.Cell(m) == (term, column, column))
                return theta[m] == 0;
        }
        return false;
    }

    private static void CheckInputs(DesignMatrix x, IReadOnlyList<double> outcome, IReadOnlyList<RandomTerm> terms)
    {
        Require.SameLength(outcome.Count, x.Rows, "outcome");
        double[] y = [.. outcome];
        Require.Finite(y, "outcome");
        if (x.Rows <= x.Columns)
            throw new TooFewDataError($"{x.Rows} rows cannot estimate {x.Columns} coefficients and a variance", "Use fewer columns.");
        if (terms.Count == 0)
            throw new InvalidInputError("a mixed model needs at least one random term", "Without one, use least squares.");
        for (int t = 0; t < terms.Count; t++)
            CheckTerm(x, terms, t);
    }

    private static void CheckTerm(DesignMatrix x, IReadOnlyList<RandomTerm> terms, int t)
    {
        RandomTerm term = terms[t];
        if (term.Groups.Rows != x.Rows)
            throw new InvalidInputError($"the random term '{term.Name}' has {term.Groups.Rows} rows where the design has {x.Rows}", "Take all inputs from the same table.", column: term.Name);
        if (term.Columns is not null && term.Columns.Rows != x.Rows)
            throw new InvalidInputError($"the columns of the random term '{term.Name}' have {term.Columns.Rows} rows where the design has {x.Rows}", "Take all inputs from the same table.", column: term.Name);
        if (term.Groups.Count < 2)
            throw new TooFewDataError($"the random term '{term.Name}' has one group, and a variance between groups needs more", "Leave the term out.");
        if ((long)term.Groups.Count * term.Size >= x.Rows)
            throw new TooFewDataError($"the random term '{term.Name}' has {(long)term.Groups.Count * term.Size} effects for {x.Rows} rows, so they cannot be told from the residual", "Leave out the slope, or the term.");
        for (int c = 0; c < term.Size; c++)
        {
            if (!(term.Scale(c) > 0))
                throw new InvalidInputError($"the column '{term.ColumnName(c)}' of the random term '{term.Name}' is zero in every row", "Leave the column out.", column: term.ColumnName(c));
        }
        if (term.Columns is not null)
            _ = OrthonormalBasis.Of(term.Columns);
        for (int other = 0; other < t; other++)
        {
            if (terms[other].Name == term.Name)
                throw new InvalidInputError($"two random terms are named '{term.Name}'", "Give each grouping one term with all its columns.", column: term.Name);
            if (terms[other].Groups.Count == term.Groups.Count && TermHierarchy.IsNested(term.Groups, terms[other].Groups))
                throw new InvalidInputError($"the random terms '{terms[other].Name}' and '{term.Name}' group the rows alike", "Give the grouping one term with all its columns.", column: term.Name);
        }
    }
}
