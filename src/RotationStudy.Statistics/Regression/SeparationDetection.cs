namespace RotationStudy.Statistics.Regression;

/// <summary>Whether the columns split the outcome, so that a coefficient runs off to infinity; which columns do.</summary>
/// <remarks>
/// <para><b>Question</b>: a maximum-likelihood estimate of a logistic regression exists if and only if no direction b other than those that leave every
/// linear predictor alone has x_i'b at or above 0 in all rows with the event and at or below 0 in all rows without (Albert and Anderson 1984). Strict
/// inequality everywhere is complete, somewhere quasi-complete separation. Under a log link only rows without events can be split off: x_i'b = 0 in rows with
/// events, at or below 0 in the others (Correia, Guimaraes and Zylkin 2019).</para>
/// <para><b>Method</b>: first each column by itself (with the intercept), one pass. Then the linear programme of Konis (2007): the largest sum of
/// margins s_i x_i'b with every margin at least zero and every coefficient between -1 and 1, each column scaled by its largest size; its dual has p rows and is
/// solved by the revised simplex method, O(np) per pivot. A positive optimum is a direction of separation, and the columns with
/// a coefficient in it are named. Under complete separation the direction is not unique: columns that separate by themselves are then
/// the ones named.</para>
/// <para><b>Sources</b>: Albert A, Anderson JA. Biometrika 1984;71:1-10; Konis K. Linear programming algorithms for detecting separated data in binary
/// logistic regression models, DPhil thesis, Oxford 2007; Correia S, Guimaraes P, Zylkin T. arXiv:1903.01633 (2019).</para>
/// <para><b>Checked against</b>: Binary/firth_separated_2x2, and constructions in the tests.</para>
/// </remarks>
public static class SeparationDetection
{
    /// <summary>The columns that separate a binary outcome; empty where a maximum-likelihood estimate exists.</summary>
    /// <param name="x">Design, n by p, of full rank.</param>
    /// <param name="outcome">0 or 1 per row, length n.</param>
    /// <exception cref="InvalidInputError">An outcome that is neither 0 nor 1, lengths that do not agree.</exception>
    /// <exception cref="TooFewDataError">No event, events only, fewer rows than columns.</exception>
    public static IReadOnlyList<string> SeparatedColumns(DesignMatrix x, ReadOnlySpan<double> outcome)
        => SeparatedColumns(x, GeneralizedLinearData.Check(x, OutcomeKind.Binary, binary: true, outcome, [], []));

    internal static IReadOnlyList<string> SeparatedColumns(DesignMatrix x, GeneralizedLinearData data)
    {
        List<string> alone = [];
        if (x.IndexOf(DesignMatrix.InterceptName) >= 0)
        {
            for (int j = 0; j < x.Columns; j++)
            {
                if (SeparatesAlone(x.Column(j), data))
                    alone.Add(x.Names[j]);
            }
        }
        return alone.Count > 0 ? alone : new SeparationProgramme(x, Signs(data)).SeparatedColumns();
    }

    // +1: the linear predictor wants to rise; -1: it wants to fall; 0 under a log link: it is held (rows with events).
    // NaN marks rows that take no part.
    private static double[] Signs(GeneralizedLinearData data)
    {
        double[] signs = new double[data.Outcome.Length];
        for (int i = 0; i < signs.Length; i++)
        {
            bool used = data.Weights.IsEmpty || data.Weights[i] > 0;
            double risen = data.Kind == OutcomeKind.Binary ? 1 : 0;
            signs[i] = !used ? double.NaN : data.Outcome[i] > 0 ? risen : -1;
        }
        return signs;
    }

    private static bool SeparatesAlone(ReadOnlySpan<double> column, GeneralizedLinearData data)
    {
        double lowWith = double.PositiveInfinity, highWith = double.NegativeInfinity;
        double lowWithout = double.PositiveInfinity, highWithout = double.NegativeInfinity;
        for (int i = 0; i < column.Length; i++)
        {
            if (!data.Weights.IsEmpty && data.Weights[i] == 0)
                continue;
            if (data.Outcome[i] > 0)
            {
                lowWith = Math.Min(lowWith, column[i]);
                highWith = Math.Max(highWith, column[i]);
            }
            else
            {
                lowWithout = Math.Min(lowWithout, column[i]);
                highWithout = Math.Max(highWithout, column[i]);
            }
        }
        bool varies = Math.Min(lowWith, lowWithout) < Math.Max(highWith, highWithout);
        bool split = highWithout <= lowWith || highWith <= lowWithout;
        return varies && split && (data.Kind == OutcomeKind.Binary || lowWith == highWith);
    }
}
