using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Prediction;

/// <summary>The strength of a penalty as chosen by cross-validation, with the fit of all rows at it.</summary>
/// <param name="Fit">Fit of all rows at the strength chosen.</param>
/// <param name="Strengths">Strengths tried, the largest first.</param>
/// <param name="Deviance">Mean deviance per row held out, for each.</param>
/// <param name="Folds">Number of folds.</param>
public sealed record CrossValidatedFit(PenalizedFit Fit, IReadOnlyList<double> Strengths, IReadOnlyList<double> Deviance, int Folds);

/// <summary>Chooses the strength of a penalty by cross-validation over whole clusters.</summary>
/// <remarks>
/// Clusters are dealt into folds of nearly equal size by a seeded shuffle, so that no cluster is on both sides; each fold is predicted from the
/// others along one path of strengths, and the strength of the smallest mean deviance of held-out rows is taken. A fold
/// whose others have no event, no non-event or a constant column takes no part; if none is left the choice fails.
/// <b>Sources</b>: Stone M. J R Stat Soc B 1974;36:111-147; Friedman J, Hastie T, Tibshirani R. J Stat Softw 2010;33(1) (recalled, not re-read).
/// </remarks>
public static class CrossValidatedPenalty
{
    /// <summary>Chooses and fits.</summary>
    /// <param name="x">Columns without intercept, n by p.</param>
    /// <param name="outcome">0 or 1 per row.</param>
    /// <param name="clusters">Clusters of dependent rows.</param>
    /// <param name="penalty">Which penalty.</param>
    /// <param name="folds">Number of folds, at most the number of clusters.</param>
    /// <param name="random">Deals the clusters.</param>
    /// <param name="strengths">How many strengths are tried.</param>
    /// <exception cref="TooFewDataError">Fewer clusters than folds, or no fold that can be used.</exception>
    public static CrossValidatedFit Choose(
        DesignMatrix x, ReadOnlySpan<double> outcome, Clusters clusters, CoefficientPenalty penalty, int folds, RandomStream random, int strengths = 40)
    {
        if (folds < 2 || clusters.Count < folds)
            throw new TooFewDataError($"{clusters.Count} clusters cannot be dealt into {folds} folds", "Take fewer folds, two at least.");
        double[] y = outcome.ToArray();
        IReadOnlyList<double> path = PenalizedLogisticRegression.Strengths(x, y, penalty, strengths);
        double[] deviance = new double[path.Count];
        int[] foldOf = Deal(clusters.Count, folds, random);
        int heldOut = 0;
        for (int fold = 0; fold < folds; fold++)
            heldOut += AddFold(x, y, clusters, foldOf, fold, penalty, path, deviance);
        if (heldOut == 0)
            throw new TooFewDataError("no fold could be predicted from the others", "There are too few events to choose a penalty.");
        for (int s = 0; s < deviance.Length; s++)
            deviance[s] /= heldOut;
        int best = Array.IndexOf(deviance, deviance.Min());
        // The whole path down to the best strength, so that the fit sets out from its neighbour.
        PenalizedFit fit = PenalizedLogisticRegression.Path(x, y, penalty, [.. path.Take(best + 1)])[^1];
        return new CrossValidatedFit(fit, path, deviance, folds);
    }

    private static int[] Deal(int clusters, int folds, RandomStream random)
    {
        int[] order = [.. Enumerable.Range(0, clusters)];
        random.Shuffle(order);
        int[] foldOf = new int[clusters];
        for (int i = 0; i < clusters; i++)
            foldOf[order[i]] = i % folds;
        return foldOf;
    }

    private static int AddFold(
        DesignMatrix x, double[] y, Clusters clusters, int[] foldOf, int fold, CoefficientPenalty penalty, IReadOnlyList<double> path, double[] deviance)
    {
        List<int> inside = [];
        List<int> held = [];
        for (int i = 0; i < y.Length; i++)
            (foldOf[clusters.ClusterOfRow[i]] == fold ? held : inside).Add(i);
        IReadOnlyList<PenalizedFit> fits;
        try
        {
            fits = PenalizedLogisticRegression.Path(x.SelectRows([.. inside]), [.. inside.Select(i => y[i])], penalty, path);
        }
        catch (StatisticsError)
        {
            return 0;
        }
        DesignMatrix other = x.SelectRows([.. held]);
        LogisticFamily family = default;
        for (int s = 0; s < fits.Count; s++)
        {
            double[] logOdds = fits[s].LogOdds(other);
            for (int i = 0; i < logOdds.Length; i++)
                deviance[s] -= 2 * family.LogLikelihood(y[held[i]], logOdds[i], out _, out _);
        }
        return held.Count;
    }
}
