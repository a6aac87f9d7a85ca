namespace RotationStudy.Statistics.Clustered;

/// <summary>A marginal model fitted by generalised estimating equations.</summary>
public sealed class GeneralizedEstimatingEquationsFit
{
    private readonly double[] fitted;

    internal GeneralizedEstimatingEquationsFit(
        EstimatingEquations equations, Clusters clusters, SandwichCorrection correction, GeneralizedEstimatingEquationsOptions options)
    {
        Family = equations.Family;
        Options = options;
        Correction = correction;
        Clusters = clusters.Count;
        LargestCluster = clusters.LargestSize;
        Correlation = equations.Correlation;
        Scale = equations.Scale;
        Iterations = equations.Iterations;
        fitted = equations.Mean.ToArray();
        ModelBasedCovariance = new SymmetricMatrix(equations.X.Names, equations.InverseInformation).Scale(Scale);
        Coefficients = MakeCoefficients(equations, clusters, correction);
        double trace = 0;
        double[] independence = equations.IndependenceInformation();
        for (int i = 0; i < independence.Length; i++)
            trace += independence[i] * Coefficients.Covariance.Values[i];
        Cic = trace / Scale;
        Qic = (-2 * equations.QuasiLikelihood / Scale) + (2 * Cic);
    }

    /// <summary>Coefficients with their sandwich covariance.</summary>
    public Coefficients Coefficients { get; }

    /// <summary>Covariance if the working correlation were right: phi (D'V^-1 D)^-1.</summary>
    public SymmetricMatrix ModelBasedCovariance { get; }

    /// <summary>Kind of outcome.</summary>
    public MarginalFamily Family { get; }

    /// <summary>The choices made.</summary>
    public GeneralizedEstimatingEquationsOptions Options { get; }

    /// <summary>The correction that the sandwich got.</summary>
    public SandwichCorrection Correction { get; }

    /// <summary>The working correlation alpha; zero under independence.</summary>
    public double Correlation { get; }

    /// <summary>The scale phi.</summary>
    public double Scale { get; }

    /// <summary>Number of clusters.</summary>
    public int Clusters { get; }

    /// <summary>Rows of the largest cluster.</summary>
    public int LargestCluster { get; }

    /// <summary>Rows used, n.</summary>
    public int Rows => fitted.Length;

    /// <summary>Rounds of the iteration.</summary>
    public int Iterations { get; }

    /// <summary>Fitted means, n values.</summary>
    public IReadOnlyList<double> Fitted => fitted;

    /// <summary>
    /// Quasi-likelihood criterion of Pan (2001), -2 Q / phi + 2 CIC, Q under independence without terms that hold the outcome
    /// only; smaller is better, between models of the same rows. Libraries differ in whether Q is divided by phi: here it is.
    /// </summary>
    public double Qic { get; }

    /// <summary>Correlation criterion, the trace of the independence information times the sandwich covariance (Hin &amp; Wang 2009): compares working correlations.</summary>
    public double Cic { get; }

    // B M B, B the inverse information, M the sum of squares of the (corrected) scores of the clusters.
    private static Coefficients MakeCoefficients(EstimatingEquations equations, Clusters clusters, SandwichCorrection correction)
    {
        int p = equations.X.Columns;
        double[] b = equations.InverseInformation;
        SandwichMiddle middle = new(correction, equations.Information, b, p);
        equations.ForEachCluster(clusters, (score, own) => middle.Add(score, own));
        double[] half = Product(b, middle.Value, p);
        SymmetricMatrix covariance = new(equations.X.Names, Product(half, b, p));
        string method = correction switch
        {
            SandwichCorrection.ManclDeRouen => "sandwich, Mancl-DeRouen",
            SandwichCorrection.KauermannCarroll => "sandwich, Kauermann-Carroll",
            SandwichCorrection.FayGraubard => "sandwich, Fay-Graubard",
            _ => "sandwich",
        };
        double[]? df = null;
        if (correction != SandwichCorrection.None)
        {
            df = new double[p];
            Array.Fill(df, clusters.Count - p);
        }
        return new Coefficients(equations.Coefficients, covariance, method, df);
    }

    private static double[] Product(ReadOnlySpan<double> left, ReadOnlySpan<double> right, int p)
    {
        double[] product = new double[p * p];
        for (int i = 0; i < p; i++)
        {
            for (int k = 0; k < p; k++)
            {
                for (int j = 0; j < p; j++)
                    product[(i * p) + j] += left[(i * p) + k] * right[(k * p) + j];
            }
        }
        return product;
    }
}
