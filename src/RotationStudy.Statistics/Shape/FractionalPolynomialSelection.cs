namespace RotationStudy.Statistics.Shape;

/// <summary>What the selection of a fractional polynomial found.</summary>
/// <param name="Chosen">The curve chosen; null where the quantity has no effect at the level of the test.</param>
/// <param name="BestFirstDegree">The curve of degree one with the smallest deviance.</param>
/// <param name="BestSecondDegree">The curve of degree two with the smallest deviance.</param>
/// <param name="NullDeviance">Deviance without the quantity.</param>
/// <param name="LinearDeviance">Deviance of the straight line.</param>
/// <param name="FirstDegreeDeviance">Deviance of the best curve of degree one.</param>
/// <param name="SecondDegreeDeviance">Deviance of the best curve of degree two.</param>
/// <param name="Tests">The closed tests in order: any effect (4 degrees of freedom), non-linearity (3), second against
/// first degree (2). All three are given; the choice stops at the first that is not significant.</param>
/// <param name="Failed">Curves whose fit failed and which were therefore not candidates.</param>
public sealed record FractionalPolynomialSelection(
    FractionalPolynomial? Chosen,
    FractionalPolynomial BestFirstDegree,
    FractionalPolynomial BestSecondDegree,
    double NullDeviance,
    double LinearDeviance,
    double FirstDegreeDeviance,
    double SecondDegreeDeviance,
    IReadOnlyList<TestResult> Tests,
    IReadOnlyList<FractionalPolynomial> Failed)
{
    /// <summary>Chooses a fractional polynomial by the closed-test procedure, for any regression.</summary>
    /// <param name="quantity">Name of the quantity.</param>
    /// <param name="values">Its values, one per row.</param>
    /// <param name="deviance">Fits the model with these columns added (none for the model without the quantity) and
    /// returns -2 log-likelihood.</param>
    /// <param name="level">Level of each test, such as 0.05.</param>
    /// <param name="shift">Shift of the quantity; null to derive it from the values.</param>
    /// <param name="scale">Scale of the quantity; null to derive it from the values.</param>
    /// <exception cref="InvalidInputError">Values that are not positive after the shift.</exception>
    /// <exception cref="TooFewDataError">No curve of some degree could be fitted, or the quantity has one distinct
    /// value.</exception>
    /// <remarks>
    /// <para><b>Procedure</b>: the 8 curves of degree one and the 36 of degree two are fitted. The best of degree two
    /// is tested against no effect on 4 degrees of freedom, against the line on 3, against the best of degree one on 2
    /// (each power counts as one); the first test that is not significant ends the procedure with the simpler curve.
    /// The order keeps the overall level near that of one test. Ties in deviance go to the first in the order of the
    /// power set.</para>
    /// <para><b>Tests</b> compare deviance differences with chi-square; for a Gaussian outcome the deviance is -2
    /// log-likelihood at the maximum likelihood variance. Rows must be independent: with clusters the tests are too
    /// liberal, and the curve chosen should be tested by a cluster-robust Wald test in a second step. Uncertainty from
    /// the selection is in no interval.</para>
    /// <para><b>Sources</b>: Royston P, Altman DG. J R Stat Soc C 1994;43:429-467; Ambler G, Royston P. J Stat Comput
    /// Simul 2001;69:89-108 (the closed test).</para>
    /// <para><b>Checked against</b>: Shape/fractional_polynomials.</para>
    /// </remarks>
    public static FractionalPolynomialSelection Select(
        string quantity,
        IReadOnlyList<double> values,
        Func<IReadOnlyList<(string Name, IReadOnlyList<double> Values)>, double> deviance,
        double level = 0.05,
        double? shift = null,
        double? scale = null)
    {
        Require.Probability(level, "level");
        (double derivedShift, double derivedScale) = FractionalPolynomial.ShiftAndScale(values);
        List<FractionalPolynomial> failed = [];
        FractionalPolynomial Powers(double[] powers) => new(powers, shift ?? derivedShift, scale ?? derivedScale);
        double Deviance(FractionalPolynomial curve) => deviance(Curve.Columns(curve, quantity, values));
        Candidate Best(IEnumerable<double[]> powers) => BestOf([.. powers.Select(Powers)], Deviance, failed);
        // Values that no power can take are an error of the input, not a fit that failed.
        _ = Curve.Columns(Powers([0]), quantity, values);

        double none = deviance([]);
        Candidate linear = Best([[1]]);
        Candidate first = Best(FractionalPolynomial.PowerSet.Select(p => new[] { p }));
        Candidate second = Best(PairsOfPowers());
        TestResult[] tests =
        [
            Compare("any effect", none, second.Deviance, 4),
            Compare("non-linearity", linear.Deviance, second.Deviance, 3),
            Compare("second against first degree", first.Deviance, second.Deviance, 2),
        ];
        FractionalPolynomial? chosen = tests[0].PValue > level ? null
            : tests[1].PValue > level ? linear.Curve
            : tests[2].PValue > level ? first.Curve
            : second.Curve;
        return new FractionalPolynomialSelection(chosen, first.Curve, second.Curve, none, linear.Deviance, first.Deviance, second.Deviance, tests, failed);
    }

    private static IEnumerable<double[]> PairsOfPowers()
    {
        IReadOnlyList<double> powers = FractionalPolynomial.PowerSet;
        for (int i = 0; i < powers.Count; i++)
        {
            for (int j = i; j < powers.Count; j++)
                yield return [powers[i], powers[j]];
        }
    }

    private static Candidate BestOf(
        FractionalPolynomial[] curves, Func<FractionalPolynomial, double> deviance, List<FractionalPolynomial> failed)
    {
        Candidate? best = null;
        foreach (FractionalPolynomial curve in curves)
        {
            try
            {
                double found = deviance(curve);
                if (double.IsNaN(found))
                    failed.Add(curve);
                else if (best is null || found < best.Deviance)
                    best = new Candidate(curve, found);
            }
            catch (StatisticsError)
            {
                failed.Add(curve);
            }
        }
        return best ?? throw new TooFewDataError(
            $"no fractional polynomial of degree {curves[0].Dimension} could be fitted",
            "Look at the fit of the straight line for the reason.");
    }

    private static TestResult Compare(string name, double smaller, double larger, int df)
    {
        double difference = Math.Max(0, smaller - larger);
        return TestResult.ChiSquare($"deviance chi-square, {name}", difference, df);
    }

    private sealed record Candidate(FractionalPolynomial Curve, double Deviance);
}
