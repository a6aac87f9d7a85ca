using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Survival;

/// <summary>A fitted proportional-hazards model with a gamma frailty shared within clusters.</summary>
/// <param name="Coefficients">Log hazard ratios between rows of equal frailty, with their covariance at the estimated variance of the frailty.</param>
/// <param name="FrailtyVariance">Variance theta of the frailty, whose mean is one; zero on the boundary.</param>
/// <param name="OnBoundary">Whether the likelihood is highest at no frailty: then the fit is an ordinary Cox regression.</param>
/// <param name="Frailties">Expected frailty of each cluster given the data, by cluster.</param>
/// <param name="LogLikelihood">Log likelihood with the frailty integrated out, on the scale of the partial likelihood.</param>
/// <param name="NoFrailtyLogLikelihood">The same without frailty: the log partial likelihood of the ordinary fit.</param>
/// <param name="Rows">Number of rows, n.</param>
/// <param name="Events">Number of events.</param>
/// <param name="Clusters">Number of clusters, G.</param>
public sealed record SharedFrailtyFit(
    Coefficients Coefficients,
    double FrailtyVariance,
    bool OnBoundary,
    IReadOnlyList<double> Frailties,
    double LogLikelihood,
    double NoFrailtyLogLikelihood,
    int Rows,
    int Events,
    int Clusters)
{
    /// <summary>Kendall's tau between two rows of a cluster: theta / (theta + 2).</summary>
    public double KendallTau => FrailtyVariance / (FrailtyVariance + 2);

    /// <summary>Likelihood-ratio test of no frailty: half a chi-square on one degree of freedom, as zero lies on the boundary.</summary>
    public TestResult FrailtyTest
    {
        get
        {
            double statistic = Math.Max(0, 2 * (LogLikelihood - NoFrailtyLogLikelihood));
            double p = statistic > 0 ? 0.5 * ChiSquared.UpperTail(statistic, 1) : 1;
            return new TestResult("likelihood ratio, boundary", statistic, 1, double.PositiveInfinity, p);
        }
    }
}

/// <summary>How do covariates multiply the hazard within a cluster whose rows share an unseen proneness? Cox regression with gamma frailty.</summary>
/// <remarks>
/// Model: the hazard of row i of cluster g is u_g h(t) exp(x'b), u_g gamma with mean one and variance theta. A coefficient
/// compares rows of equal frailty; it lies farther from zero than the marginal one of <see cref="CoxRegression"/>.
/// <para>Fitted by expectation-maximisation for given theta: u = (1/theta + d)/(1/theta + H) with d events and H hazard met in the
/// cluster, one Newton step for b with log u as offset, until b and u stand still to 1e-11. Theta is the root of the derivative
/// of the integrated likelihood, found by bracketing and false position on its log between 1e-5 and 1e3; with no root there the estimate is zero, on
/// the boundary (or NotConvergedError at the upper end).</para>
/// <para>Variance of b: inverse of minus the derivative of its profile score, taken numerically with u and the baseline following, theta
/// held. Sensible with many clusters; the uncertainty of theta is not in it (the two are nearly uncorrelated).</para>
/// <para>Where libraries differ: penalised likelihood gives the same b and theta, and a variance of b that differs slightly.</para>
/// <para><b>Sources</b>: Klein JP, Biometrics 1992;48:795-806. Nielsen GG et al., Scand J Stat 1992;19:25-43. Therneau TM and Grambsch PM,
/// Modeling Survival Data, 2000, section 9.6. Self SG and Liang KY, J Am Stat Assoc 1987;82:605-610 (boundary).</para>
/// <para><b>Checked against</b>: Survival/frailty.</para>
/// </remarks>
public static class SharedFrailtyCox
{
    private const double Smallest = 1e-5;
    private const double Largest = 1e3;

    /// <summary>Fits the model.</summary>
    /// <param name="times">Follow-up, n rows.</param>
    /// <param name="x">Covariates, n rows by p columns, no intercept.</param>
    /// <param name="clusters">Rows that share a frailty, n.</param>
    /// <param name="ties">Efron's or Breslow's method.</param>
    /// <param name="heldVariance">A variance of the frailty to take as known, above zero; null: estimate it.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree, or exact discrete ties, or a held variance that is not above zero.</exception>
    /// <exception cref="TooFewDataError">No event, or a single cluster.</exception>
    /// <exception cref="RankDeficientError">A column without information of its own; it is named.</exception>
    /// <exception cref="SeparationError">A coefficient is infinite; its column is named.</exception>
    /// <exception cref="NotConvergedError">The iterations did not settle.</exception>
    public static SharedFrailtyFit Fit(SurvivalTimes times, DesignMatrix x, Clusters clusters, TiesMethod ties = TiesMethod.Efron, double? heldVariance = null)
    {
        if (ties == TiesMethod.ExactDiscrete)
            throw new InvalidInputError("exact discrete ties go without frailty", "Use Efron's method for ties.");
        if (heldVariance is { } held && !(held > 0 && double.IsFinite(held)))
            throw new InvalidInputError($"a frailty variance of {held} cannot be held", "Give a variance above zero, or leave it out to have it estimated.");
        CoxFit ordinary = CoxRegression.Fit(times, x, clusters, options: new CoxOptions { Ties = ties, ClusterVariance = CoxClusterVariance.Sandwich });
        FrailtyExpectation expectation = new(times, x, clusters, ties, ordinary.Coefficients.Values);
        double theta = heldVariance ?? VarianceOfFrailty(expectation);
        if (theta == 0)
        {
            double[] ones = new double[clusters.Count];
            Array.Fill(ones, 1);
            Coefficients plain = new([.. ordinary.Coefficients.Values], ordinary.ModelCovariance, "inverse information, no frailty");
            return new SharedFrailtyFit(plain, 0, true, ones, ordinary.LogLikelihood, ordinary.LogLikelihood, times.Rows, times.EventCount, clusters.Count);
        }
        expectation.Settle(theta, holdCoefficients: false);
        double likelihood = expectation.IntegratedLogLikelihood(theta);
        double[] frailties = [.. expectation.Frailties];
        double[] beta = [.. expectation.Beta];
        SymmetricMatrix covariance = new(x.Names, SmallCholesky.Factor(ProfileInformation(expectation, theta, beta), x.Columns, x.Names).Inverse());
        return new SharedFrailtyFit(
            new Coefficients(beta, covariance, "profile information at the estimated frailty variance"),
            theta,
            false,
            frailties,
            likelihood,
            ordinary.LogLikelihood,
            times.Rows,
            times.EventCount,
            clusters.Count);
    }

    private static double VarianceOfFrailty(FrailtyExpectation expectation)
    {
        double low = Math.Log(Smallest);
        double high = Math.Log(0.1);
        double atLow = Slope(expectation, low);
        if (atLow <= 0)
            return 0;
        double atHigh = Slope(expectation, high);
        while (atHigh > 0)
        {
            (low, atLow) = (high, atHigh);
            high += Math.Log(4);
            if (high > Math.Log(Largest))
                throw new NotConvergedError("the variance of the frailty grows without end", "Clusters with events hardly overlap in time with the others; report the marginal model.", 0);
            atHigh = Slope(expectation, high);
        }
        return Math.Exp(Root(expectation, low, atLow, high, atHigh));
    }

    // False position, the kept end's value halved when it is kept twice (Illinois rule): few evaluations, never outside the bracket.
    private static double Root(FrailtyExpectation expectation, double low, double atLow, double high, double atHigh)
    {
        int side = 0;
        for (int i = 0; i < 100; i++)
        {
            double middle = ((low * atHigh) - (high * atLow)) / (atHigh - atLow);
            double value = Slope(expectation, middle);
            if (value == 0 || high - low < 1e-9 || Math.Min(middle - low, high - middle) < 1e-10)
                return middle;
            if (value > 0)
            {
                (low, atLow) = (middle, value);
                atHigh *= side == 1 ? 0.5 : 1;
                side = 1;
            }
            else
            {
                (high, atHigh) = (middle, value);
                atLow *= side == -1 ? 0.5 : 1;
                side = -1;
            }
        }
        throw new NotConvergedError("the variance of the frailty did not settle", "Report the marginal model with a cluster-robust variance.", 100);
    }

    // Derivative of the integrated likelihood by 1/theta at settled b and u, sign reversed so that it is that by theta.
    private static double Slope(FrailtyExpectation expectation, double logTheta)
    {
        double theta = Math.Exp(logTheta);
        expectation.Settle(theta, holdCoefficients: false);
        double nu = 1 / theta;
        double sum = 0;
        for (int g = 0; g < expectation.Frailties.Length; g++)
        {
            double u = expectation.Frailties[g];
            double d = expectation.Events[g];
            sum += Math.Log(nu / (nu + d)) + 1 - u + Math.Log(u) + DigammaDifference(nu, d);
        }
        return -sum;
    }

    // psi(nu + d) - psi(nu) as a sum: no cancellation when nu is large.
    private static double DigammaDifference(double nu, double d)
    {
        double sum = 0;
        for (int k = 0; k < d; k++)
            sum += 1 / (nu + k);
        return sum;
    }

    private static double[] ProfileInformation(FrailtyExpectation expectation, double theta, double[] beta)
    {
        int p = beta.Length;
        double[] information = new double[p * p];
        for (int k = 0; k < p; k++)
        {
            double h = 1e-4 / expectation.Spread(k);
            double[] up = ScoreAt(k, h);
            double[] down = ScoreAt(k, -h);
            for (int j = 0; j < p; j++)
                information[(j * p) + k] = (down[j] - up[j]) / (2 * h);
        }
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < i; j++)
                information[(i * p) + j] = information[(j * p) + i] = 0.5 * (information[(i * p) + j] + information[(j * p) + i]);
        }
        return information;

        double[] ScoreAt(int k, double change)
        {
            beta.CopyTo(expectation.Beta, 0);
            expectation.Beta[k] += change;
            expectation.Settle(theta, holdCoefficients: true);
            return expectation.Score.ToArray();
        }
    }
}
