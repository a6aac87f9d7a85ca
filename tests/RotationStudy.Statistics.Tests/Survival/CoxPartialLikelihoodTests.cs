using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class CoxPartialLikelihoodTests
{
    // Six rows: events at 1 (two, both x = 1), 2 (x = 1), 3 (x = 0), 4 (x = 1); one row with x = 0 censored at 1.
    private static readonly SurvivalTimes Six = SurvivalTimes.RightCensored([1, 1, 1, 2, 3, 4], [true, true, false, true, true, true]);

    private static readonly DesignMatrix SixX = DesignMatrix.FromColumns(("x", [1, 1, 0, 1, 0, 1]));

    public static TheoryData<double> Betas => [-1.5, 0, 0.3, 2];

    private static IPartialLikelihood At(double beta, TiesMethod ties)
    {
        RiskSets sets = RiskSets.Build(Six);
        CoxColumns columns = new(sets, SixX, [], []);
        IPartialLikelihood likelihood = ties == TiesMethod.ExactDiscrete ? new ExactDiscreteLikelihood(sets, columns) : new CoxPartialLikelihood(sets, columns, ties);
        likelihood.Evaluate([beta]);
        return likelihood;
    }

    [Theory]
    [MemberData(nameof(Betas))]
    public void Efron_by_hand(double beta)
    {
        double r = Math.Exp(beta);
        IPartialLikelihood found = At(beta, TiesMethod.Efron);
        Close.Relative((3 * beta) - Math.Log((4 * r) + 2) - Math.Log((3 * r) + 2) - Math.Log((2 * r) + 1) - Math.Log(r + 1), found.LogLikelihood, 1e-13);
        Close.Relative(3 - (4 * r / ((2 * r) + 1)) - (3 * r / ((3 * r) + 2)) - (r / (r + 1)), found.Score[0], 1e-12);
        Close.Relative((4 * r / Square((2 * r) + 1)) + (6 * r / Square((3 * r) + 2)) + (r / Square(r + 1)), found.Information[0], 1e-12);
    }

    [Theory]
    [MemberData(nameof(Betas))]
    public void Breslow_by_hand(double beta)
    {
        double r = Math.Exp(beta);
        IPartialLikelihood found = At(beta, TiesMethod.Breslow);
        Close.Relative((3 * beta) - (2 * Math.Log((4 * r) + 2)) - Math.Log((2 * r) + 1) - Math.Log(r + 1), found.LogLikelihood, 1e-13);
        Close.Relative(3 - (6 * r / ((2 * r) + 1)) - (r / (r + 1)), found.Score[0], 1e-12);
        Close.Relative((6 * r / Square((2 * r) + 1)) + (r / Square(r + 1)), found.Information[0], 1e-12);
    }

    [Theory]
    [MemberData(nameof(Betas))]
    public void Exact_discrete_by_hand(double beta)
    {
        // At time 1 two events among four rows with r and two with 1: 6 r^2 + 8 r + 1 pairs.
        double r = Math.Exp(beta);
        double pairs = (6 * r * r) + (8 * r) + 1;
        double first = ((12 * r * r) + (8 * r)) / pairs;
        double second = (((24 * r * r) + (8 * r)) / pairs) - (first * first);
        IPartialLikelihood found = At(beta, TiesMethod.ExactDiscrete);
        Close.Relative((3 * beta) - Math.Log(pairs) - Math.Log((2 * r) + 1) - Math.Log(r + 1), found.LogLikelihood, 1e-13);
        Close.Relative(3 - first - (2 * r / ((2 * r) + 1)) - (r / (r + 1)), found.Score[0], 1e-12);
        Close.Relative(second + (2 * r / Square((2 * r) + 1)) + (r / Square(r + 1)), found.Information[0], 1e-12);
    }

    [Fact]
    public void Breslow_maximum_by_hand()
    {
        // The score is zero where 2 r^2 - 2 r - 3 = 0.
        CoxFit fit = CoxRegression.Fit(Six, SixX, options: new() { Ties = TiesMethod.Breslow });
        Close.Relative(Math.Log((1 + Math.Sqrt(7)) / 2), fit.Coefficients.Values[0], 1e-12);
    }

    [Theory]
    [InlineData(TiesMethod.Efron, 1)]
    [InlineData(TiesMethod.Efron, 2)]
    [InlineData(TiesMethod.Breslow, 3)]
    [InlineData(TiesMethod.Breslow, 4)]
    public void The_single_pass_equals_a_plain_double_loop(TiesMethod ties, int seed)
    {
        Random random = new(seed);
        const int N = 60;
        double[] entry = new double[N], exit = new double[N], a = new double[N], b = new double[N], w = new double[N], o = new double[N];
        bool[] events = new bool[N];
        string[] stratum = new string[N];
        for (int i = 0; i < N; i++)
        {
            entry[i] = random.Next(0, 8);
            exit[i] = entry[i] + random.Next(1, 9);
            events[i] = random.Next(3) > 0;
            (a[i], b[i], w[i], o[i]) = (random.NextDouble(), random.Next(2), 0.5 + random.NextDouble(), random.NextDouble() - 0.5);
            stratum[i] = random.Next(2) == 0 ? "u" : "v";
        }
        DesignMatrix x = DesignMatrix.FromColumns(("a", a), ("b", b));
        RiskSets sets = RiskSets.Build(SurvivalTimes.CountingProcess(entry, exit, events), Clusters.From(stratum));
        CoxPartialLikelihood fast = new(sets, new CoxColumns(sets, x, w, o), ties);
        double[] beta = [0.7, -0.4];
        fast.Evaluate(beta);
        double likelihood = 0;
        double[] score = new double[2];
        double[] information = new double[4];
        foreach ((string s, double t) in Enumerable.Range(0, N).Where(i => events[i]).Select(i => (stratum[i], exit[i])).Distinct())
        {
            int[] risk = [.. Enumerable.Range(0, N).Where(i => stratum[i] == s && entry[i] < t && t <= exit[i])];
            int[] dead = [.. risk.Where(i => events[i] && exit[i] == t)];
            double meanWeight = dead.Average(i => w[i]);
            double Risk(int i) => w[i] * Math.Exp((beta[0] * a[i]) + (beta[1] * b[i]) + o[i]);
            foreach (int i in dead)
            {
                likelihood += w[i] * ((beta[0] * a[i]) + (beta[1] * b[i]) + o[i]);
                score[0] += w[i] * a[i];
                score[1] += w[i] * b[i];
            }
            for (int k = 0; k < dead.Length; k++)
            {
                double f = ties == TiesMethod.Efron ? (double)k / dead.Length : 0;
                double Sum(Func<int, double> g) => risk.Sum(i => Risk(i) * g(i)) - (f * dead.Sum(i => Risk(i) * g(i)));
                double s0 = Sum(_ => 1), sa = Sum(i => a[i]) / s0, sb = Sum(i => b[i]) / s0;
                likelihood -= meanWeight * Math.Log(s0);
                score[0] -= meanWeight * sa;
                score[1] -= meanWeight * sb;
                information[0] += meanWeight * ((Sum(i => a[i] * a[i]) / s0) - (sa * sa));
                information[1] += meanWeight * ((Sum(i => a[i] * b[i]) / s0) - (sa * sb));
                information[3] += meanWeight * ((Sum(i => b[i] * b[i]) / s0) - (sb * sb));
            }
        }
        Close.Relative(likelihood, fast.LogLikelihood, 1e-12);
        Close.Relative(score[0], fast.Score[0], 1e-10);
        Close.Relative(score[1], fast.Score[1], 1e-10);
        Close.Relative(information[0], fast.Information[0], 1e-11);
        Close.Relative(information[1], fast.Information[1], 1e-10);
        Close.Relative(information[3], fast.Information[3], 1e-11);
    }

    [Fact]
    public void A_huge_risk_that_has_left_leaves_no_noise_behind()
    {
        // Row 0 has e^40 times the others' risk and enters after the events of the rest: a plain running sum would lose them.
        SurvivalTimes times = SurvivalTimes.CountingProcess([10, 0, 0, 0, 0], [12, 1, 2, 3, 4], [true, true, true, false, true]);
        DesignMatrix x = DesignMatrix.FromColumns(("x", [40, 1, 0, 1, 0]));
        RiskSets sets = RiskSets.Build(times);
        CoxPartialLikelihood found = new(sets, new CoxColumns(sets, x, [], []), TiesMethod.Efron);
        found.Evaluate([1]);
        double e = Math.E;
        Close.Relative(1 - Math.Log((2 * e) + 2) - Math.Log(e + 2), found.LogLikelihood, 1e-13);
    }

    private static double Square(double value) => value * value;
}
